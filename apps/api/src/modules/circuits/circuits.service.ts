import { Injectable } from '@nestjs/common';
import { CIRCUIT_FIGURES } from '@repo/calc/figures';
import type { Circuit, InputOf, routes } from '@repo/contracts';
import { readable } from '../../platform/documents/index.js';
import { AppError, invalidField, notFound } from '../../platform/errors/app-error.js';
import { Cursors } from '../../platform/http/cursor.js';
import { assertVersion } from '../../platform/http/etag.js';
import { figuresFrom } from '../../platform/http/figures-out.js';
import { isoOrNull } from '../../platform/http/quantity-out.js';
import { ConsequencesService, dependOn, type Added } from '../sizing/index.js';
import { CircuitsRepository, type CircuitRow } from './circuits.repository.js';

type Circuits = typeof routes.circuits;

const toCircuit = (row: CircuitRow): Circuit => ({
  id: row.id,
  customerId: row.customerId,
  machineId: row.machineId,
  powerUnitId: row.powerUnitId,
  stationId: row.stationId,
  stationName: row.station.name,
  name: row.name,
  purpose: row.purpose,
  ...figuresFrom(CIRCUIT_FIGURES, row),
  note: row.note,
  createdAt: row.createdAt.toISOString(),
  archivedAt: isoOrNull(row.archivedAt),
  version: row.version,
});

/** One circuit more or fewer: for those that share its supply, and those that share its control. */
const amongOthers = (machineId: string, powerUnitId: string) => [
  ...dependOn('circuits-of-machine', machineId),
  ...dependOn('circuits-of-power-unit', powerUnitId),
];

@Injectable()
export class CircuitsService {
  constructor(
    private readonly repository: CircuitsRepository,
    private readonly consequences: ConsequencesService,
    private readonly cursors: Cursors,
  ) {}

  async list(query: InputOf<Circuits['list']>['query']) {
    const after = this.cursors.read('circuits', query.cursor, 1);
    const rows = await this.repository.list({ machineId: query.machineId }, after, query.limit);
    const page = this.cursors.page('circuits', rows, query.limit, (row) => [row.id]);
    return { ...readable(page.rows, toCircuit), nextCursor: page.nextCursor };
  }

  async listOfMachine(machineId: string): Promise<Circuit[]> {
    const rows = await this.repository.list({ machineId }, null, 200);
    return rows.map(toCircuit).sort((a, b) => a.name.localeCompare(b.name, 'en', { numeric: true }));
  }

  async get(id: string): Promise<Circuit> {
    const row = await this.repository.find(id);
    if (row === null) throw notFound();
    return toCircuit(row);
  }

  /** Writes it; what follows from it is left to the caller. */
  async add(body: InputOf<Circuits['create']>['body']): Promise<Added> {
    const place = await this.repository.findPlace(body.powerUnitId, body.stationId);
    if (place === null) throw notFound();
    if (place.unit.machineId !== place.station.machineId) {
      throw invalidField('stationId', body.stationId, 'a station of the same machine as the power unit');
    }
    await this.repository.insert(place.station, body);
    const { customerId, machineId } = place.station;
    return {
      done: { action: 'create', entity: 'circuit', entityId: body.id, customerId, changes: body },
      touched: [...dependOn('circuit', body.id), ...amongOthers(machineId, body.powerUnitId)],
    };
  }

  async create(body: InputOf<Circuits['create']>['body']): Promise<Circuit> {
    const { done, touched } = await this.add(body);
    await this.consequences.of(done, touched);
    return this.get(body.id);
  }

  async update(id: string, version: number, body: InputOf<Circuits['update']>['body']): Promise<Circuit> {
    const before = await this.get(id);
    assertVersion(before.version, version);
    if (!(await this.repository.update(id, version, body))) throw new AppError('request.stale');
    const { customerId } = before;
    const fact = { action: 'update', entity: 'circuit', entityId: id, customerId, changes: body, before };
    await this.consequences.of(fact, [
      ...dependOn('circuit', id),
      ...(body.archived === undefined ? [] : amongOthers(before.machineId, before.powerUnitId)),
    ]);
    return this.get(id);
  }
}
