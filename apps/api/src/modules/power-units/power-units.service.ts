import { Injectable } from '@nestjs/common';
import { POWER_UNIT_FIGURES } from '@repo/calc/figures';
import { powerUnitSchema, toSiOf, type InputOf, type PowerUnit, type routes } from '@repo/contracts';
import { readable } from '../../platform/documents/index.js';
import { AppError, invalidField, notFound } from '../../platform/errors/app-error.js';
import { Cursors } from '../../platform/http/cursor.js';
import { assertVersion } from '../../platform/http/etag.js';
import { figuresFrom } from '../../platform/http/figures-out.js';
import { ConsequencesService, dependOn, type Added } from '../sizing/index.js';
import { PowerUnitsRepository, type PowerUnitRow } from './power-units.repository.js';

type PowerUnits = typeof routes.powerUnits;

const toPowerUnit = (row: PowerUnitRow): PowerUnit => ({
  id: row.id,
  customerId: row.customerId,
  machineId: row.machineId,
  name: row.name,
  drive: powerUnitSchema.shape.drive.parse(row.drive),
  ...figuresFrom(POWER_UNIT_FIGURES, row),
  note: row.note,
  createdAt: row.createdAt.toISOString(),
  archivedAt: row.archivedAt?.toISOString() ?? null,
  version: row.version,
});

/** The air that a power unit gets is at its lowest no higher than at its highest. */
function assertAirInOrder({
  plantAirLow: low,
  plantAirHigh: high,
}: Pick<PowerUnit, 'plantAirLow' | 'plantAirHigh'>): void {
  if (low !== null && high !== null && toSiOf(low, 'pressure') > toSiOf(high, 'pressure'))
    throw invalidField('plantAirLow', low, 'at most the highest air at the regulator', 'order');
}

@Injectable()
export class PowerUnitsService {
  constructor(
    private readonly repository: PowerUnitsRepository,
    private readonly consequences: ConsequencesService,
    private readonly cursors: Cursors,
  ) {}

  async list(query: InputOf<PowerUnits['list']>['query']) {
    const after = this.cursors.read('power-units', query.cursor, 1);
    const rows = await this.repository.list({ machineId: query.machineId }, after, query.limit);
    const page = this.cursors.page('power-units', rows, query.limit, (row) => [row.id]);
    return { ...readable(page.rows, toPowerUnit), nextCursor: page.nextCursor };
  }

  async listOfMachine(machineId: string): Promise<PowerUnit[]> {
    return (await this.repository.list({ machineId }, null, 200)).map(toPowerUnit);
  }

  async get(id: string): Promise<PowerUnit> {
    const row = await this.repository.find(id);
    if (row === null) throw notFound();
    return toPowerUnit(row);
  }

  /** Writes it; what follows from it is left to the caller. */
  async add(body: InputOf<PowerUnits['create']>['body']): Promise<Added> {
    const customerId = await this.repository.findCustomerOfMachine(body.machineId);
    if (customerId === null) throw notFound();
    assertAirInOrder(body);
    await this.repository.insert(customerId, body);
    const done = { action: 'create', entity: 'power-unit', entityId: body.id, customerId, changes: body };
    return { done, touched: dependOn('power-unit', body.id) };
  }

  async create(body: InputOf<PowerUnits['create']>['body']): Promise<PowerUnit> {
    const { done, touched } = await this.add(body);
    await this.consequences.of(done, touched);
    return this.get(body.id);
  }

  async update(id: string, version: number, body: InputOf<PowerUnits['update']>['body']): Promise<PowerUnit> {
    const before = await this.get(id);
    assertVersion(before.version, version);
    assertAirInOrder({ ...before, ...body });
    if (!(await this.repository.update(id, version, body))) throw new AppError('request.stale');
    await this.consequences.of(
      {
        action: 'update',
        entity: 'power-unit',
        entityId: id,
        customerId: before.customerId,
        changes: body,
        before,
      },
      dependOn('power-unit', id),
    );
    return this.get(id);
  }
}
