import { Injectable } from '@nestjs/common';
import { Db, everyWord, type Prisma } from '../../platform/db/index.js';

const include = { customer: { select: { name: true } } } as const;

@Injectable()
export class SitesRepository {
  constructor(private readonly db: Db) {}

  find(id: string) {
    return this.db.tx.site.findUnique({
      where: { organisationId_id: { organisationId: this.db.actor.organisationId, id } },
      include,
    });
  }

  /** @param filter what is looked for stands in the name of the site, of its place or of its customer */
  list(
    filter: { customerId: string | undefined; search: string | undefined },
    after: readonly (string | number)[] | null,
    limit: number,
  ) {
    return this.db.tx.site.findMany({
      where: {
        organisationId: this.db.actor.organisationId,
        archivedAt: null,
        ...(filter.customerId === undefined ? {} : { customerId: filter.customerId }),
        AND: everyWord(filter.search, (holds) => [{ name: holds }, { place: holds }, { customer: { name: holds } }]),
        ...(after === null ? {} : { id: { gt: String(after[0]) } }),
      },
      include,
      orderBy: { id: 'asc' },
      take: limit + 1,
    });
  }

  async insert(data: Omit<Prisma.SiteUncheckedCreateInput, 'organisationId'>): Promise<void> {
    await this.db.tx.site.create({ data: { ...data, organisationId: this.db.actor.organisationId } });
  }

  async update(id: string, version: number, data: Prisma.SiteUncheckedUpdateManyInput): Promise<boolean> {
    const { count } = await this.db.tx.site.updateMany({
      where: { organisationId: this.db.actor.organisationId, id, version },
      data: { ...data, version: { increment: 1 } },
    });
    return count === 1;
  }
}
export type SiteRow = NonNullable<Awaited<ReturnType<SitesRepository['find']>>>;
