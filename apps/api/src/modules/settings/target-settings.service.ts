import { Injectable } from '@nestjs/common';
import { toSiOf, type InputOf, type routes, type TargetSetting, type WireQuantity } from '@repo/contracts';
import { readable } from '../../platform/documents/index.js';
import { AppError, invalidField, notFound } from '../../platform/errors/app-error.js';
import { Cursors } from '../../platform/http/cursor.js';
import { ConsequencesService, dependOn, type Added } from '../sizing/index.js';
import { toFormer, toTargetSetting } from './settings.mapper.js';
import { SettingsRepository } from './settings.repository.js';
import { canRead, isSwitchPossible } from './switch-points.js';

type Targets = typeof routes.targetSettings;

const toPa = (pressure: WireQuantity | null): number | null =>
  pressure === null ? null : toSiOf(pressure, 'pressure');

export function assertSwitchOrder(setPoint: WireQuantity | null, resetPoint: WireQuantity | null): void {
  if (!isSwitchPossible(toPa(setPoint), toPa(resetPoint))) {
    throw invalidField('resetPoint', resetPoint, 'a reset point below the set point', 'order');
  }
}

export function assertGaugeReads(gaugeSpan: WireQuantity | null, setting: WireQuantity | null): void {
  if (!canRead(toPa(gaugeSpan), toPa(setting))) {
    throw invalidField('gaugeSpan', gaugeSpan, 'a span that the setting lies within', 'order');
  }
}

/** Refuses a revision on top of one that its author has not seen. */
export function assertNewest(newest: number, seen: number): void {
  if (newest !== seen) {
    throw new AppError('request.conflict', {
      detail: `Revision ${newest} was recorded meanwhile. Read it, then decide.`,
      errors: [
        { pointer: '/afterRevision', field: 'afterRevision', got: String(seen), needs: String(newest), code: 'stale' },
      ],
    });
  }
}

/** What an engineer released, revision by revision. */
@Injectable()
export class TargetSettingsService {
  constructor(
    private readonly repository: SettingsRepository,
    private readonly consequences: ConsequencesService,
    private readonly cursors: Cursors,
  ) {}

  async list(query: InputOf<Targets['list']>['query']) {
    const after = this.cursors.read('target-settings', query.cursor, 1);
    const rows = await this.repository.listTargets(query.circuitId, after, query.limit);
    const page = this.cursors.page('target-settings', rows, query.limit, (row) => [row.revision]);
    return { ...readable(page.rows, toTargetSetting), nextCursor: page.nextCursor };
  }

  async latest(circuitIds: readonly string[], asOn: Date): Promise<TargetSetting[]> {
    return (await this.repository.latestTargets(circuitIds, asOn)).map(toTargetSetting);
  }

  async get(id: string): Promise<TargetSetting> {
    const row = await this.repository.findTarget(id);
    if (row === null) throw notFound();
    return toTargetSetting(row);
  }

  /** Writes it; what follows from it is left to the caller. */
  async add(body: InputOf<Targets['release']>['body']): Promise<Added> {
    assertSwitchOrder(body.setPoint, body.resetPoint);
    const circuit = await this.repository.lockCircuit(body.circuitId);
    if (circuit === null) throw notFound();
    const newest = await this.repository.newestRevision('target', body.circuitId);
    assertNewest(newest, body.afterRevision);
    const [former] = await this.repository.listTargets(body.circuitId, null, 1);
    await this.repository.insertTarget(circuit.customerId, newest + 1, body);
    const { customerId } = circuit;
    return {
      done: {
        action: 'release',
        entity: 'target-setting',
        entityId: body.id,
        customerId,
        changes: { ...body },
        ...(former === undefined ? {} : { before: toFormer(toTargetSetting(former)) }),
      },
      touched: dependOn('target-settings-of-circuit', body.circuitId),
    };
  }

  async release(body: InputOf<Targets['release']>['body']): Promise<TargetSetting> {
    const { done, touched } = await this.add(body);
    await this.consequences.of(done, touched);
    return this.get(body.id);
  }
}
