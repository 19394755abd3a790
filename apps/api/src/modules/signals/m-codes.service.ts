import { Injectable } from '@nestjs/common';
import { mCodeSchema, type InputOf, type MCode, type routes } from '@repo/contracts';
import { readable } from '../../platform/documents/index.js';
import { AppError, invalidField, notFound } from '../../platform/errors/app-error.js';
import { Cursors } from '../../platform/http/cursor.js';
import { assertVersion } from '../../platform/http/etag.js';
import { isoOrNull, quantityFrom } from '../../platform/http/quantity-out.js';
import { ConsequencesService, dependOn, type Added } from '../sizing/index.js';
import { MCodesRepository, type MCodeRow } from './m-codes.repository.js';
import { SignalsRepository } from './signals.repository.js';

type MCodes = typeof routes.mCodes;

const toMCode = (row: MCodeRow): MCode => ({
  id: row.id,
  customerId: row.customerId,
  machineId: row.machineId,
  stationId: row.stationId,
  code: row.code,
  action: mCodeSchema.shape.action.parse(row.action),
  waitsForAnswer: row.waitsForAnswer,
  timeOut: quantityFrom(row.timeOutEntered),
  note: row.note,
  createdAt: row.createdAt.toISOString(),
  archivedAt: isoOrNull(row.archivedAt),
  version: row.version,
});

@Injectable()
export class MCodesService {
  constructor(
    private readonly repository: MCodesRepository,
    private readonly signals: SignalsRepository,
    private readonly consequences: ConsequencesService,
    private readonly cursors: Cursors,
  ) {}

  async list(query: InputOf<MCodes['list']>['query']) {
    const after = this.cursors.read('m-codes', query.cursor, 1);
    const rows = await this.repository.list(query.machineId, after, query.limit);
    const page = this.cursors.page('m-codes', rows, query.limit, (row) => [row.id]);
    return { ...readable(page.rows, toMCode), nextCursor: page.nextCursor };
  }

  async get(id: string): Promise<MCode> {
    const row = await this.repository.find(id);
    if (row === null) throw notFound();
    return toMCode(row);
  }

  /** Writes it; what follows from it is left to the caller. */
  async add(body: InputOf<MCodes['create']>['body']): Promise<Added> {
    const machine = await this.signals.findMachine(body.machineId);
    if (machine === null) throw notFound();
    const { stationId } = body;
    if (!(await this.signals.areOfMachine(body.machineId, { stationId }))) {
      throw invalidField('stationId', stationId, 'a station of the same machine');
    }
    await this.repository.insert(machine.customerId, body);
    return this.toChange('create', { ...body, customerId: machine.customerId }, body);
  }

  async create(body: InputOf<MCodes['create']>['body']): Promise<MCode> {
    const { done, touched } = await this.add(body);
    await this.consequences.of(done, touched);
    return this.get(body.id);
  }

  async update(id: string, version: number, body: InputOf<MCodes['update']>['body']): Promise<MCode> {
    const before = await this.get(id);
    assertVersion(before.version, version);
    if (!(await this.repository.update(id, version, body))) throw new AppError('request.stale');
    const { done, touched } = this.toChange('update', before, body, before);
    await this.consequences.of(done, touched);
    return this.get(id);
  }

  private toChange(
    action: 'create' | 'update',
    { id, customerId, machineId }: Pick<MCode, 'id' | 'customerId' | 'machineId'>,
    changes: Record<string, unknown>,
    former?: object,
  ): Added {
    return {
      done: {
        action,
        entity: 'm-code',
        entityId: id,
        customerId,
        changes,
        ...(former === undefined ? {} : { before: former }),
      },
      touched: dependOn('control-of-machine', machineId),
    };
  }
}
