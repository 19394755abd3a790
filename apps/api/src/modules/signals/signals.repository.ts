import { Injectable } from '@nestjs/common';
import type { InputOf, routes } from '@repo/contracts';
import { Db } from '../../platform/db/index.js';
import { given } from './given.js';

type Signals = typeof routes.signals;

@Injectable()
export class SignalsRepository {
  constructor(private readonly db: Db) {}

  private get organisationId(): string {
    return this.db.actor.organisationId;
  }

  private key(id: string) {
    return { organisationId_id: { organisationId: this.organisationId, id } };
  }

  find(id: string) {
    return this.db.tx.signal.findUnique({ where: this.key(id) });
  }

  list(machineId: string, after: readonly (string | number)[] | null, limit: number) {
    return this.db.tx.signal.findMany({
      where: {
        organisationId: this.organisationId,
        machineId,
        archivedAt: null,
        ...(after === null ? {} : { id: { gt: String(after[0]) } }),
      },
      orderBy: { id: 'asc' },
      take: limit + 1,
    });
  }

  findMachine(id: string) {
    return this.db.tx.machine.findUnique({ where: this.key(id), select: { customerId: true } });
  }

  /** Whether everything that a signal or code names is of its machine. */
  async areOfMachine(
    machineId: string,
    named: {
      circuitId?: string | null | undefined;
      mCodeId?: string | null | undefined;
      componentId?: string | null | undefined;
      stationId?: string | null | undefined;
    },
  ): Promise<boolean> {
    const { circuitId, mCodeId, componentId, stationId } = named;
    const where = (id: string) => ({ organisationId: this.organisationId, machineId, id });
    const { circuit, mCode, installedComponent, station } = this.db.tx;
    if (circuitId && (await circuit.count({ where: where(circuitId) })) === 0) return false;
    if (mCodeId && (await mCode.count({ where: where(mCodeId) })) === 0) return false;
    if (componentId && (await installedComponent.count({ where: where(componentId) })) === 0) return false;
    return !stationId || (await station.count({ where: where(stationId) })) === 1;
  }

  async insert(customerId: string, body: InputOf<Signals['create']>['body']): Promise<void> {
    await this.db.tx.signal.create({ data: { organisationId: this.organisationId, customerId, ...body } });
  }

  async update(id: string, version: number, body: InputOf<Signals['update']>['body']): Promise<boolean> {
    const { archived, ...plain } = body;
    const { count } = await this.db.tx.signal.updateMany({
      where: { organisationId: this.organisationId, id, version },
      data: { ...given(plain, archived), version: { increment: 1 } },
    });
    return count === 1;
  }
}
export type SignalRow = NonNullable<Awaited<ReturnType<SignalsRepository['find']>>>;
