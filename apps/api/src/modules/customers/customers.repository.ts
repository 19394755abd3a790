import { Injectable } from '@nestjs/common';
import { Db, Prisma } from '../../platform/db/index.js';

const include = { standingCountsByCustomerId: { select: { status: true, circuits: true } } } as const;

@Injectable()
export class CustomersRepository {
  constructor(private readonly db: Db) {}

  private key(id: string) {
    return { organisationId_id: { organisationId: this.db.actor.organisationId, id } };
  }

  find(id: string) {
    return this.db.tx.customer.findUnique({ where: this.key(id), include });
  }

  list(after: readonly (string | number)[] | null, limit: number, archived: boolean) {
    const organisationId = this.db.actor.organisationId;
    const [name, id] = after ?? [];
    const beyond: Prisma.CustomerWhereInput =
      after === null ? {} : { OR: [{ name: { gt: String(name) } }, { name: String(name), id: { gt: String(id) } }] };
    return this.db.tx.customer.findMany({
      where: { organisationId, archivedAt: archived ? { not: null } : null, ...beyond },
      include,
      orderBy: [{ name: 'asc' }, { id: 'asc' }],
      take: limit + 1,
    });
  }

  async insert(data: Omit<Prisma.CustomerUncheckedCreateInput, 'organisationId'>): Promise<void> {
    await this.db.tx.customer.create({ data: { ...data, organisationId: this.db.actor.organisationId } });
  }

  async update(id: string, version: number, data: Prisma.CustomerUncheckedUpdateManyInput): Promise<boolean> {
    const { count } = await this.db.tx.customer.updateMany({
      where: { organisationId: this.db.actor.organisationId, id, version },
      data: { ...data, version: { increment: 1 } },
    });
    return count === 1;
  }
}
export type CustomerRow = NonNullable<Awaited<ReturnType<CustomersRepository['find']>>>;
