import { Injectable } from '@nestjs/common';
import type { InputOf, routes, Wire } from '@repo/contracts';
import { readable } from '../../platform/documents/index.js';
import { AppError, notFound } from '../../platform/errors/app-error.js';
import { Cursors } from '../../platform/http/cursor.js';
import { assertVersion } from '../../platform/http/etag.js';
import { isoOrNull, quantityFrom } from '../../platform/http/quantity-out.js';
import { ConsequencesService, dependOn, type Added } from '../sizing/index.js';
import { SignalsRepository } from './signals.repository.js';
import { WiresRepository, type WireRow } from './wires.repository.js';

type Wires = typeof routes.wires;

const toWire = (row: WireRow): Wire => ({
  id: row.id,
  customerId: row.customerId,
  signalId: row.signalId,
  number: row.number,
  fromTerminal: row.fromTerminal,
  toTerminal: row.toTerminal,
  colour: row.colour,
  crossSection: quantityFrom(row.crossSectionEntered),
  length: quantityFrom(row.lengthEntered),
  insulationVoltageV: row.insulationVoltageV,
  protectionA: row.protectionA,
  conductorLimitA: row.conductorLimitA,
  highestInCableV: row.highestInCableV,
  note: row.note,
  createdAt: row.createdAt.toISOString(),
  archivedAt: isoOrNull(row.archivedAt),
  version: row.version,
});

@Injectable()
export class WiresService {
  constructor(
    private readonly repository: WiresRepository,
    private readonly signals: SignalsRepository,
    private readonly consequences: ConsequencesService,
    private readonly cursors: Cursors,
  ) {}

  async list(query: InputOf<Wires['list']>['query']) {
    const after = this.cursors.read('wires', query.cursor, 1);
    const rows = await this.repository.list(query.machineId, after, query.limit);
    const page = this.cursors.page('wires', rows, query.limit, (row) => [row.id]);
    return { ...readable(page.rows, toWire), nextCursor: page.nextCursor };
  }

  async get(id: string): Promise<Wire> {
    return toWire(await this.find(id));
  }

  /** Writes it; what follows from it is left to the caller. */
  async add(body: InputOf<Wires['create']>['body']): Promise<Added> {
    const signal = await this.signals.find(body.signalId);
    if (signal === null) throw notFound();
    await this.repository.insert(signal.customerId, body);
    const { customerId, machineId } = signal;
    return this.toChange('create', { id: body.id, customerId, signal: { machineId } }, body);
  }

  async create(body: InputOf<Wires['create']>['body']): Promise<Wire> {
    const { done, touched } = await this.add(body);
    await this.consequences.of(done, touched);
    return this.get(body.id);
  }

  async update(id: string, version: number, body: InputOf<Wires['update']>['body']): Promise<Wire> {
    const before = await this.find(id);
    assertVersion(before.version, version);
    if (!(await this.repository.update(id, version, body))) throw new AppError('request.stale');
    const { done, touched } = this.toChange('update', before, body, toWire(before));
    await this.consequences.of(done, touched);
    return this.get(id);
  }

  private async find(id: string): Promise<WireRow> {
    const row = await this.repository.find(id);
    if (row === null) throw notFound();
    return row;
  }

  private toChange(
    action: 'create' | 'update',
    { id, customerId, signal }: Pick<WireRow, 'id' | 'customerId' | 'signal'>,
    changes: Record<string, unknown>,
    former?: object,
  ): Added {
    return {
      done: {
        action,
        entity: 'wire',
        entityId: id,
        customerId,
        changes,
        ...(former === undefined ? {} : { before: former }),
      },
      touched: dependOn('control-of-machine', signal.machineId),
    };
  }
}
