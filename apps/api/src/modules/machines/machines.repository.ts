import { Injectable } from '@nestjs/common';
import { MACHINE_FIGURES } from '@repo/calc/figures';
import type { InputOf, routes } from '@repo/contracts';
import { uuidv7 } from 'uuidv7';
import { Db, patternsOf, Prisma, splitFigures } from '../../platform/db/index.js';

type Machines = typeof routes.machines;
const include = {
  customer: { select: { name: true } },
  site: { select: { name: true, place: true, timeZone: true } },
  stationsByMachineId: { where: { archivedAt: null }, orderBy: { position: 'asc' } },
} as const;
const day = (date: string | null | undefined): { set: Date | null } | undefined =>
  date === undefined ? undefined : { set: date === null ? null : new Date(date) };

@Injectable()
export class MachinesRepository {
  constructor(private readonly db: Db) {}

  private get organisationId(): string {
    return this.db.actor.organisationId;
  }

  private key(id: string) {
    return { organisationId_id: { organisationId: this.organisationId, id } };
  }

  find(id: string) {
    return this.db.tx.machine.findUnique({ where: this.key(id), include });
  }

  /** @param filter what is looked for stands in its name, its serial number, or the name of its site or customer */
  async list(
    filter: { siteId: string | undefined; customerId: string | undefined; search: string | undefined },
    after: readonly (string | number)[] | null,
    limit: number,
  ) {
    const orderBy = [{ name: 'asc' }, { id: 'asc' }] as const;
    const ids = (await this.listIds(filter, after, limit)).map(({ id }) => id);
    const where = { organisationId: this.organisationId, id: { in: ids } };
    return this.db.tx.machine.findMany({ where, include, orderBy: [...orderBy] });
  }

  /** Sites and customers are few and are looked through once for each word: joined to them, the database asks them anew for each machine. */
  private listIds(
    filter: { siteId: string | undefined; customerId: string | undefined; search: string | undefined },
    after: readonly (string | number)[] | null,
    limit: number,
  ): Promise<{ id: string }[]> {
    const { siteId, customerId, search } = filter;
    const o = Prisma.sql`${this.organisationId}::uuid`;
    const where = [Prisma.sql`m.organisation_id = ${o} AND m.archived_at IS NULL`];
    if (siteId !== undefined) where.push(Prisma.sql`m.site_id = ${siteId}::uuid`);
    if (customerId !== undefined) where.push(Prisma.sql`m.customer_id = ${customerId}::uuid`);
    if (after !== null) where.push(Prisma.sql`(m.name, m.id) > (${String(after[0])}, ${String(after[1])}::uuid)`);
    for (const pattern of patternsOf(search)) {
      where.push(Prisma.sql`(m.name ILIKE ${pattern} OR m.serial ILIKE ${pattern}
        OR m.site_id IN (SELECT s.id FROM sites s WHERE s.organisation_id = ${o} AND s.name ILIKE ${pattern})
        OR m.customer_id IN (SELECT k.id FROM customers k WHERE k.organisation_id = ${o} AND k.name ILIKE ${pattern}))`);
    }
    return this.db.tx.$queryRaw<{ id: string }[]>`
      SELECT m.id FROM machines m WHERE ${Prisma.join(where, ' AND ')} ORDER BY m.name, m.id LIMIT ${limit + 1}`;
  }

  async findCustomerOfSite(siteId: string): Promise<string | null> {
    const site = await this.db.tx.site.findUnique({ where: this.key(siteId), select: { customerId: true } });
    return site?.customerId ?? null;
  }

  async isThere(machineId: string, customerId: string): Promise<boolean> {
    const found = await this.db.tx.machine.count({
      where: { organisationId: this.organisationId, id: machineId, customerId },
    });
    return found === 1;
  }

  async insert(customerId: string, body: InputOf<Machines['create']>['body']): Promise<void> {
    const { columns, rest } = splitFigures(MACHINE_FIGURES, body);
    const { stations, inServiceOn, warrantyUntil, ...plain } = rest;
    const key = { organisationId: this.organisationId, customerId };
    await this.db.tx.machine.create({
      data: {
        ...key,
        ...plain,
        inServiceOn: inServiceOn === null ? null : new Date(inServiceOn),
        warrantyUntil: warrantyUntil === null ? null : new Date(warrantyUntil),
        ...columns,
      },
    });
    await this.db.tx.station.createMany({
      data: stations.map((station, position) => ({ ...key, ...station, machineId: body.id, position })),
    });
    await this.insertPlacement(customerId, body.id, body.siteId, 'entered');
  }

  async insertPlacement(customerId: string, machineId: string, siteId: string, reason: string): Promise<void> {
    const key = { organisationId: this.organisationId, customerId };
    const validFrom = new Date();
    await this.db.tx.machinePlacement.updateMany({
      where: { organisationId: this.organisationId, machineId, validTo: null },
      data: { validTo: validFrom },
    });
    await this.db.tx.machinePlacement.create({
      data: { ...key, id: uuidv7(), machineId, siteId, validFrom, reason },
    });
  }

  async update(id: string, version: number, body: InputOf<Machines['update']>['body']): Promise<boolean> {
    const { columns, rest } = splitFigures(MACHINE_FIGURES, body);
    const { inServiceOn, warrantyUntil, dispositionOn, archived, ...plain } = rest;
    const dates = {
      inServiceOn: day(inServiceOn),
      warrantyUntil: day(warrantyUntil),
      dispositionOn: day(dispositionOn),
    };
    const given = Object.fromEntries(Object.entries({ ...plain, ...dates }).filter(([, value]) => value !== undefined));
    const { count } = await this.db.tx.machine.updateMany({
      where: { organisationId: this.organisationId, id, version },
      data: {
        ...given,
        ...(archived === undefined ? {} : { archivedAt: archived ? new Date() : null }),
        ...columns,
        version: { increment: 1 },
      },
    });
    return count === 1;
  }

  countOpenIssues(machineId: string): Promise<number> {
    return this.db.tx.issue.count({ where: { organisationId: this.organisationId, machineId, state: 'open' } });
  }

  /** Since when nothing is reported of it although a source should. */
  async findSilence(machineId: string): Promise<Date | null> {
    const where = { organisationId_machineId: { organisationId: this.organisationId, machineId } };
    const report = await this.db.tx.machineReport.findUnique({ where, select: { silentSince: true } });
    return report?.silentSince ?? null;
  }
}
export type MachineRow = NonNullable<Awaited<ReturnType<MachinesRepository['find']>>>;
