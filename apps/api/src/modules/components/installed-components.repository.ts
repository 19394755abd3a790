import { Injectable } from '@nestjs/common';
import type { InputOf, routes } from '@repo/contracts';
import { Db, json } from '../../platform/db/index.js';
import type { StoredFigures } from '../../documents/component-figures.js';

type Installed = typeof routes.installedComponents;
const include = { componentType: { select: { name: true, kind: true, figures: true } } } as const;

@Injectable()
export class InstalledComponentsRepository {
  constructor(private readonly db: Db) {}

  private get organisationId(): string {
    return this.db.actor.organisationId;
  }

  private key(id: string) {
    return { organisationId_id: { organisationId: this.organisationId, id } };
  }

  find(id: string) {
    return this.db.tx.installedComponent.findUnique({ where: this.key(id), include });
  }

  list(
    filter: { machineId: string | undefined; circuitId: string | undefined; asOn: Date | undefined },
    after: readonly (string | number)[] | null,
    limit: number,
  ) {
    const { machineId, circuitId, asOn } = filter;
    return this.db.tx.installedComponent.findMany({
      where: {
        organisationId: this.organisationId,
        ...(machineId === undefined ? {} : { machineId }),
        ...(circuitId === undefined ? {} : { circuitId }),
        ...(asOn === undefined ? {} : { validFrom: { lte: asOn }, OR: [{ validTo: null }, { validTo: { gt: asOn } }] }),
        ...(after === null ? {} : { id: { gt: String(after[0]) } }),
      },
      include,
      orderBy: { id: 'asc' },
      take: limit + 1,
    });
  }

  /** The machine, power unit, circuit and type that a component is to be fitted to; null for what is not there. */
  async findPlace(body: InputOf<Installed['create']>['body']) {
    const { tx } = this.db;
    const { machineId, powerUnitId, circuitId, componentTypeId } = body;
    const select = { machineId: true } as const;
    return {
      machine: await tx.machine.findUnique({ where: this.key(machineId), select: { customerId: true } }),
      unit: powerUnitId === null ? null : await tx.powerUnit.findUnique({ where: this.key(powerUnitId), select }),
      circuit: circuitId === null ? null : await tx.circuit.findUnique({ where: this.key(circuitId), select }),
      type: await tx.componentType.findUnique({
        where: this.key(componentTypeId),
        select: { kind: true, name: true, figures: true },
      }),
    };
  }

  async insert(customerId: string, body: InputOf<Installed['create']>['body'], figures: StoredFigures): Promise<void> {
    const { id, machineId, powerUnitId, circuitId, componentTypeId, designation, lineFunctions } = body;
    const { serial, lot, sensing, isBeyondShutOff, reason, madeOn, validFrom } = body;
    await this.db.tx.installedComponent.create({
      data: {
        id,
        machineId,
        powerUnitId,
        circuitId,
        componentTypeId,
        designation,
        lineFunctions,
        serial,
        lot,
        sensing,
        isBeyondShutOff,
        reason,
        organisationId: this.organisationId,
        customerId,
        figures: json(figures),
        madeOn: madeOn === null ? null : new Date(madeOn),
        validFrom: new Date(validFrom),
        recordedBy: this.db.actor.membershipId,
      },
    });
  }

  /** Ends a period that is still open; false when it was changed meanwhile. */
  async end(id: string, version: number, validTo: Date, removedReason: string): Promise<boolean> {
    const { count } = await this.db.tx.installedComponent.updateMany({
      where: { organisationId: this.organisationId, id, version, validTo: null },
      data: { validTo, removedReason, version: { increment: 1 } },
    });
    return count === 1;
  }
}
export type InstalledRow = NonNullable<Awaited<ReturnType<InstalledComponentsRepository['find']>>>;
