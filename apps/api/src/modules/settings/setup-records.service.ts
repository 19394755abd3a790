import { Injectable } from '@nestjs/common';
import type { InputOf, routes, SetupRecord } from '@repo/contracts';
import { readable } from '../../platform/documents/index.js';
import { notFound } from '../../platform/errors/app-error.js';
import { Cursors } from '../../platform/http/cursor.js';
import { assertNotAhead } from '../../platform/http/not-ahead.js';
import { ConsequencesService, dependOn } from '../sizing/index.js';
import { toFormer, toSetupRecord } from './settings.mapper.js';
import { SettingsRepository } from './settings.repository.js';
import { assertGaugeReads, assertNewest, assertSwitchOrder } from './target-settings.service.js';

type Setups = typeof routes.setupRecords;

/** As-left settings: what was measured, with which instrument and which fixture on the station. */
@Injectable()
export class SetupRecordsService {
  constructor(
    private readonly repository: SettingsRepository,
    private readonly consequences: ConsequencesService,
    private readonly cursors: Cursors,
  ) {}

  async list(query: InputOf<Setups['list']>['query']) {
    const after = this.cursors.read('setup-records', query.cursor, 1);
    const rows = await this.repository.listSetups(query.circuitId, after, query.limit);
    const page = this.cursors.page('setup-records', rows, query.limit, (row) => [row.revision]);
    return { ...readable(page.rows, toSetupRecord), nextCursor: page.nextCursor };
  }

  async latest(circuitIds: readonly string[], asOn: Date): Promise<SetupRecord[]> {
    return (await this.repository.latestSetups(circuitIds, asOn)).map(toSetupRecord);
  }

  async get(id: string): Promise<SetupRecord> {
    const row = await this.repository.findSetup(id);
    if (row === null) throw notFound();
    return toSetupRecord(row);
  }

  async create(body: InputOf<Setups['create']>['body']): Promise<SetupRecord> {
    assertNotAhead('measuredAt', body.measuredAt);
    assertSwitchOrder(body.setPoint, body.resetPoint);
    assertGaugeReads(body.gaugeSpan, body.setting);
    const circuit = await this.repository.lockCircuit(body.circuitId);
    if (circuit === null) throw notFound();
    const newest = await this.repository.newestRevision('setup', body.circuitId);
    assertNewest(newest, body.afterRevision);
    const fixtureId = await this.repository.findFittedFixture(circuit.stationId, new Date(body.measuredAt));
    const [former] = await this.repository.listSetups(body.circuitId, null, 1);
    await this.repository.insertSetup(circuit.customerId, newest + 1, fixtureId, body);
    await this.consequences.of(
      {
        action: 'record',
        entity: 'setup-record',
        entityId: body.id,
        customerId: circuit.customerId,
        changes: { ...body },
        ...(former === undefined ? {} : { before: toFormer(toSetupRecord(former)) }),
      },
      dependOn('setup-records-of-circuit', body.circuitId),
    );
    return this.get(body.id);
  }
}
