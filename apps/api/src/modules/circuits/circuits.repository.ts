import { Injectable } from '@nestjs/common';
import type { InputOf, routes } from '@repo/contracts';
import { Db, quantityColumns } from '../../platform/db/index.js';

type Circuits = typeof routes.circuits;
const include = { station: { select: { name: true } } } as const;

const quantities = (body: InputOf<Circuits['update']>['body']) => ({
  ...quantityColumns(
    'trappedTemperatureRiseK',
    'trappedTemperatureRiseEntered',
    'temperature-difference',
    body.trappedTemperatureRise,
  ),
  ...quantityColumns('trappedBulkModulusPa', 'trappedBulkModulusEntered', 'modulus', body.trappedBulkModulus),
  ...quantityColumns('clampTimeAllowedS', 'clampTimeAllowedEntered', 'time', body.clampTimeAllowed),
  ...quantityColumns('unclampTimeAllowedS', 'unclampTimeAllowedEntered', 'time', body.unclampTimeAllowed),
  ...quantityColumns('timeWithoutSupplyS', 'timeWithoutSupplyEntered', 'time', body.timeWithoutSupply),
  ...quantityColumns(
    'coolingWithoutSupplyK',
    'coolingWithoutSupplyEntered',
    'temperature-difference',
    body.coolingWithoutSupply,
  ),
  ...quantityColumns('returnPressurePa', 'returnPressureEntered', 'pressure', body.returnPressure),
});

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
    const { id, powerUnitId, stationId, name, purpose, hasReducingValve, canTrap, note } = body;
    const { trappedNetExpansionPerK, unclampLineCanBlock, isDecoupled, isProvedAgain } = body;
    const { valveBehaviour, isCheckHeld, needsOpenProof, hasOpenProof } = body;
    await this.db.tx.circuit.create({
      data: {
        organisationId: this.organisationId,
        ...place,
        id,
        powerUnitId,
        stationId,
        name,
        purpose,
        hasReducingValve,
        canTrap,
        trappedNetExpansionPerK,
        unclampLineCanBlock,
        isDecoupled,
        isProvedAgain,
        valveBehaviour,
        isCheckHeld,
        needsOpenProof,
        hasOpenProof,
        note,
        ...quantities(body),
      },
    });
  }

  async update(id: string, version: number, body: InputOf<Circuits['update']>['body']): Promise<boolean> {
    const { name, purpose, hasReducingValve, canTrap, trappedNetExpansionPerK, unclampLineCanBlock, note } = body;
    const { isDecoupled, isProvedAgain, valveBehaviour, isCheckHeld, needsOpenProof, hasOpenProof } = body;
    const said = { hasReducingValve, canTrap, unclampLineCanBlock, isDecoupled, isProvedAgain };
    const control = { valveBehaviour, isCheckHeld, needsOpenProof, hasOpenProof };
    const plain = { name, purpose, trappedNetExpansionPerK, note, ...said, ...control };
    const given = Object.fromEntries(Object.entries(plain).filter(([, value]) => value !== undefined));
    const { count } = await this.db.tx.circuit.updateMany({
      where: { organisationId: this.organisationId, id, version },
      data: {
        ...given,
        ...(body.archived === undefined ? {} : { archivedAt: body.archived ? new Date() : null }),
        ...quantities(body),
        version: { increment: 1 },
      },
    });
    return count === 1;
  }
}
export type CircuitRow = NonNullable<Awaited<ReturnType<CircuitsRepository['find']>>>;
