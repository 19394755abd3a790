import { Injectable } from '@nestjs/common';
import { CIRCUIT_FIGURES } from '@repo/calc/figures';
import type { InputOf, routes } from '@repo/contracts';
import { Db, splitFigures } from '../../platform/db/index.js';

type Circuits = typeof routes.circuits;
const include = { station: { select: { name: true } } } as const;

@Injectable()
export class CircuitsRepository {
  constructor(private readonly db: Db) {}

  private get organisationId(): string {
    return this.db.actor.organisationId;
  }

  find(id: string) {
    return this.db.tx.circuit.findUnique({
      where: { organisationId_id: { organisationId: this.organisationId, id } },
      include,
    });
  }

  list(filter: { machineId: string | undefined }, after: readonly (string | number)[] | null, limit: number) {
    return this.db.tx.circuit.findMany({
      where: {
        organisationId: this.organisationId,
        archivedAt: null,
        ...(filter.machineId === undefined ? {} : { machineId: filter.machineId }),
        ...(after === null ? {} : { id: { gt: String(after[0]) } }),
      },
      include,
      orderBy: { id: 'asc' },
      take: limit + 1,
    });
  }

  /** The power unit and the station, when both are of one machine. */
  async findPlace(powerUnitId: string, stationId: string) {
    const key = (id: string) => ({ organisationId_id: { organisationId: this.organisationId, id } });
    const select = { customerId: true, machineId: true } as const;
    const unit = await this.db.tx.powerUnit.findUnique({ where: key(powerUnitId), select });
    const station = await this.db.tx.station.findUnique({ where: key(stationId), select });
    return unit === null || station === null ? null : { unit, station };
  }

  async insert(
    place: { customerId: string; machineId: string },
    body: InputOf<Circuits['create']>['body'],
  ): Promise<void> {
    const { columns, rest } = splitFigures(CIRCUIT_FIGURES, body);
    await this.db.tx.circuit.create({ data: { organisationId: this.organisationId, ...place, ...rest, ...columns } });
  }

  async update(id: string, version: number, body: InputOf<Circuits['update']>['body']): Promise<boolean> {
    const { columns, rest } = splitFigures(CIRCUIT_FIGURES, body);
    const { archived, ...plain } = rest;
    const { count } = await this.db.tx.circuit.updateMany({
      where: { organisationId: this.organisationId, id, version },
      data: {
        ...plain,
        ...columns,
        ...(archived === undefined ? {} : { archivedAt: archived ? new Date() : null }),
        version: { increment: 1 },
      },
    });
    return count === 1;
  }
}
export type CircuitRow = NonNullable<Awaited<ReturnType<CircuitsRepository['find']>>>;
