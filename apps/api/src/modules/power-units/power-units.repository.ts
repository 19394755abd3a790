import { Injectable } from '@nestjs/common';
import type { InputOf, routes } from '@repo/contracts';
import { Db, quantityColumns } from '../../platform/db/index.js';

type PowerUnits = typeof routes.powerUnits;

const quantities = (body: InputOf<PowerUnits['update']>['body']) => ({
  ...quantityColumns('plantAirLowPa', 'plantAirLowEntered', 'pressure', body.plantAirLow),
  ...quantityColumns('plantAirHighPa', 'plantAirHighEntered', 'pressure', body.plantAirHigh),
  ...quantityColumns('oilViscosityAt40M2PerS', 'oilViscosityAt40Entered', 'kinematic-viscosity', body.oilViscosityAt40),
  ...quantityColumns(
    'oilViscosityAt100M2PerS',
    'oilViscosityAt100Entered',
    'kinematic-viscosity',
    body.oilViscosityAt100,
  ),
  ...quantityColumns('oilDensityKgPerM3', 'oilDensityEntered', 'density', body.oilDensity),
  ...quantityColumns('oilBulkModulusPa', 'oilBulkModulusEntered', 'modulus', body.oilBulkModulus),
  ...quantityColumns('coldOilTemperatureK', 'coldOilTemperatureEntered', 'temperature', body.coldOilTemperature),
  ...quantityColumns(
    'workingOilTemperatureK',
    'workingOilTemperatureEntered',
    'temperature',
    body.workingOilTemperature,
  ),
});

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
    const { id, machineId, name, drive, oilAirFraction, note } = body;
    const organisationId = this.db.actor.organisationId;
    await this.db.tx.powerUnit.create({
      data: { organisationId, customerId, id, machineId, name, drive, oilAirFraction, note, ...quantities(body) },
    });
  }

  async update(id: string, version: number, body: InputOf<PowerUnits['update']>['body']): Promise<boolean> {
    const { name, drive, oilAirFraction, note, archived } = body;
    const { count } = await this.db.tx.powerUnit.updateMany({
      where: { organisationId: this.db.actor.organisationId, id, version },
      data: {
        ...(name === undefined ? {} : { name }),
        ...(drive === undefined ? {} : { drive }),
        ...(oilAirFraction === undefined ? {} : { oilAirFraction }),
        ...(note === undefined ? {} : { note }),
        ...(archived === undefined ? {} : { archivedAt: archived ? new Date() : null }),
        ...quantities(body),
        version: { increment: 1 },
      },
    });
    return count === 1;
  }
}
export type PowerUnitRow = NonNullable<Awaited<ReturnType<PowerUnitsRepository['find']>>>;
