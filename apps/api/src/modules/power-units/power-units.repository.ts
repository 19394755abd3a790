import { Injectable } from '@nestjs/common';
import { POWER_UNIT_FIGURES } from '@repo/calc/figures';
import type { InputOf, routes } from '@repo/contracts';
import { Db, splitFigures } from '../../platform/db/index.js';

type PowerUnits = typeof routes.powerUnits;

@Injectable()
export class PowerUnitsRepository {
  constructor(private readonly db: Db) {}

  find(id: string) {
    return this.db.tx.powerUnit.findUnique({
      where: { organisationId_id: { organisationId: this.db.actor.organisationId, id } },
    });
  }

  list(filter: { machineId: string | undefined }, after: readonly (string | number)[] | null, limit: number) {
    return this.db.tx.powerUnit.findMany({
      where: {
        organisationId: this.db.actor.organisationId,
        archivedAt: null,
        ...(filter.machineId === undefined ? {} : { machineId: filter.machineId }),
        ...(after === null ? {} : { id: { gt: String(after[0]) } }),
      },
      orderBy: { id: 'asc' },
      take: limit + 1,
    });
  }

  async findCustomerOfMachine(machineId: string): Promise<string | null> {
    const machine = await this.db.tx.machine.findUnique({
      where: { organisationId_id: { organisationId: this.db.actor.organisationId, id: machineId } },
      select: { customerId: true },
    });
    return machine?.customerId ?? null;
  }

  async insert(customerId: string, body: InputOf<PowerUnits['create']>['body']): Promise<void> {
    const { columns, rest } = splitFigures(POWER_UNIT_FIGURES, body);
    const organisationId = this.db.actor.organisationId;
    await this.db.tx.powerUnit.create({ data: { organisationId, customerId, ...rest, ...columns } });
  }

  async update(id: string, version: number, body: InputOf<PowerUnits['update']>['body']): Promise<boolean> {
    const { columns, rest } = splitFigures(POWER_UNIT_FIGURES, body);
    const { archived, ...plain } = rest;
    const { count } = await this.db.tx.powerUnit.updateMany({
      where: { organisationId: this.db.actor.organisationId, id, version },
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
export type PowerUnitRow = NonNullable<Awaited<ReturnType<PowerUnitsRepository['find']>>>;
