import { Injectable } from '@nestjs/common';
import type { InputOf, routes } from '@repo/contracts';
import { Db, quantityColumns } from '../../platform/db/index.js';
import { given } from './given.js';

type MCodes = typeof routes.mCodes;

@Injectable()
export class MCodesRepository {
  constructor(private readonly db: Db) {}

  private get organisationId(): string {
    return this.db.actor.organisationId;
  }

  find(id: string) {
    return this.db.tx.mCode.findUnique({ where: { organisationId_id: { organisationId: this.organisationId, id } } });
  }

  list(machineId: string, after: readonly (string | number)[] | null, limit: number) {
    return this.db.tx.mCode.findMany({
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

  async insert(customerId: string, body: InputOf<MCodes['create']>['body']): Promise<void> {
    const { timeOut, ...plain } = body;
    await this.db.tx.mCode.create({
      data: {
        organisationId: this.organisationId,
        customerId,
        ...plain,
        ...quantityColumns('timeOutS', 'timeOutEntered', 'time', timeOut),
      },
    });
  }

  async update(id: string, version: number, body: InputOf<MCodes['update']>['body']): Promise<boolean> {
    const { timeOut, archived, ...plain } = body;
    const { count } = await this.db.tx.mCode.updateMany({
      where: { organisationId: this.organisationId, id, version },
      data: {
        ...given(plain, archived),
        ...quantityColumns('timeOutS', 'timeOutEntered', 'time', timeOut),
        version: { increment: 1 },
      },
    });
    return count === 1;
  }
}
export type MCodeRow = NonNullable<Awaited<ReturnType<MCodesRepository['find']>>>;
