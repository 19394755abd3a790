import { Injectable } from '@nestjs/common';
import { signalSchema, type InputOf, type routes, type Signal } from '@repo/contracts';
import { AppError, invalidField, notFound } from '../../platform/errors/app-error.js';
import { Cursors } from '../../platform/http/cursor.js';
import { assertVersion } from '../../platform/http/etag.js';
import { isoOrNull } from '../../platform/http/quantity-out.js';
import { ConsequencesService, dependOn, type Added } from '../sizing/index.js';
import { SignalsRepository, type SignalRow } from './signals.repository.js';

type Signals = typeof routes.signals;
type Named = Parameters<SignalsRepository['areOfMachine']>[1];

const toSignal = (row: SignalRow): Signal => ({
  id: row.id,
  customerId: row.customerId,
  machineId: row.machineId,
  circuitId: row.circuitId,
  mCodeId: row.mCodeId,
  componentId: row.componentId,
  direction: signalSchema.shape.direction.parse(row.direction),
  name: row.name,
  address: row.address,
  actsOn: row.actsOn === '' ? 'none' : signalSchema.shape.actsOn.parse(row.actsOn),
  relay: row.relay,
  contact: row.contact,
  alarm: row.alarm,
  reaction: row.reaction,
  suppression: signalSchema.shape.suppression.parse(row.suppression),
  suppressionVoltageV: row.suppressionVoltageV,
  isPolarityRight: row.isPolarityRight,
  isHeldOn: row.isHeldOn,
  note: row.note,
  createdAt: row.createdAt.toISOString(),
  archivedAt: isoOrNull(row.archivedAt),
  version: row.version,
});

@Injectable()
export class SignalsService {
  constructor(
    private readonly repository: SignalsRepository,
    private readonly consequences: ConsequencesService,
    private readonly cursors: Cursors,
  ) {}

  async list(query: InputOf<Signals['list']>['query']) {
    const after = this.cursors.read('signals', query.cursor, 1);
    const rows = await this.repository.list(query.machineId, after, query.limit);
    const page = this.cursors.page('signals', rows, query.limit, (row) => [row.id]);
    return { items: page.rows.map(toSignal), nextCursor: page.nextCursor };
  }

  async get(id: string): Promise<Signal> {
    const row = await this.repository.find(id);
    if (row === null) throw notFound();
    return toSignal(row);
  }

  /** Writes it; what follows from it is left to the caller. */
  async add(body: InputOf<Signals['create']>['body']): Promise<Added> {
    const machine = await this.repository.findMachine(body.machineId);
    if (machine === null) throw notFound();
    await this.requireOfMachine(body.machineId, body);
    await this.repository.insert(machine.customerId, body);
    return this.toChange('create', { ...body, customerId: machine.customerId }, body);
  }

  async create(body: InputOf<Signals['create']>['body']): Promise<Signal> {
    const { done, touched } = await this.add(body);
    await this.consequences.of(done, touched);
    return this.get(body.id);
  }

  async update(id: string, version: number, body: InputOf<Signals['update']>['body']): Promise<Signal> {
    const before = await this.get(id);
    assertVersion(before.version, version);
    await this.requireOfMachine(before.machineId, body);
    if (!(await this.repository.update(id, version, body))) throw new AppError('request.stale');
    const { done, touched } = this.toChange('update', before, body, before);
    await this.consequences.of(done, touched);
    return this.get(id);
  }

  /** What a signal names is of its own machine: names of another machine's answer like names of nothing. */
  private async requireOfMachine(machineId: string, named: Named): Promise<void> {
    for (const field of ['circuitId', 'mCodeId', 'componentId'] as const) {
      if (!(await this.repository.areOfMachine(machineId, { [field]: named[field] }))) {
        throw invalidField(field, named[field] ?? null, 'one of the same machine');
      }
    }
  }

  private toChange(
    action: 'create' | 'update',
    { id, customerId, machineId }: Pick<Signal, 'id' | 'customerId' | 'machineId'>,
    changes: Record<string, unknown>,
    former?: object,
  ): Added {
    return {
      done: {
        action,
        entity: 'signal',
        entityId: id,
        customerId,
        changes,
        ...(former === undefined ? {} : { before: former }),
      },
      touched: dependOn('control-of-machine', machineId),
    };
  }
}
