import { Injectable } from '@nestjs/common';
import { Db } from '../../platform/db/index.js';

const WITH_CUSTOMER = { customer: { select: { name: true } } } as const;

export type MembershipRow = NonNullable<Awaited<ReturnType<MembershipsRepository['find']>>>;

@Injectable()
export class MembershipsRepository {
  constructor(private readonly db: Db) {}

  find(id: string) {
    return this.db.tx.membership.findUnique({
      where: { organisationId_id: { organisationId: this.db.actor.organisationId, id } },
      include: WITH_CUSTOMER,
    });
  }

  findOfUser(userId: string) {
    return this.db.tx.membership.findUnique({
      where: { organisationId_userId: { organisationId: this.db.actor.organisationId, userId } },
      include: WITH_CUSTOMER,
    });
  }

  list(after: readonly (string | number)[] | null, limit: number, staffOnly: boolean) {
    return this.db.tx.membership.findMany({
      where: {
        organisationId: this.db.actor.organisationId,
        ...(staffOnly ? { customerId: null, archivedAt: null } : {}),
        ...(after === null ? {} : { id: { gt: String(after[0]) } }),
      },
      include: WITH_CUSTOMER,
      orderBy: { id: 'asc' },
      take: limit + 1,
    });
  }

  /** `endsSessions`: sessions that were begun before are over, and stay so. */
  async update(
    id: string,
    version: number,
    data: { displayName?: string; role?: string; archivedAt?: Date | null },
    { endsSessions }: { endsSessions: boolean },
  ): Promise<boolean> {
    const { count } = await this.db.tx.membership.updateMany({
      where: { organisationId: this.db.actor.organisationId, id, version },
      data: { ...data, version: { increment: 1 } },
    });
    if (count === 1 && endsSessions) await this.endSessions(id);
    return count === 1;
  }

  /** Ids of those who administer; their rows are held until the transaction ends, so that no two of them are lost at once. */
  async lockAdministrators(): Promise<string[]> {
    const rows = await this.db.tx.$queryRaw<{ id: string }[]>`
      SELECT id FROM memberships
      WHERE organisation_id = ${this.db.actor.organisationId}::uuid AND role = 'administrator'
        AND archived_at IS NULL AND accepted_at IS NOT NULL
      ORDER BY id FOR UPDATE`;
    return rows.map(({ id }) => id);
  }

  async insert(membership: {
    id: string;
    userId: string;
    customerId: string | null;
    role: string;
    displayName: string;
  }): Promise<void> {
    await this.db.tx.membership.create({
      data: { organisationId: this.db.actor.organisationId, ...membership },
    });
  }

  /** Gives a membership to an account, as of now; what was open under it is over. */
  async give(
    id: string,
    to: { userId: string; role: string; customerId: string | null; displayName: string },
  ): Promise<void> {
    const { organisationId } = this.db.actor;
    await this.db.tx.membership.update({
      where: { organisationId_id: { organisationId, id } },
      data: { ...to, acceptedAt: new Date(), archivedAt: null, version: { increment: 1 } },
    });
    await this.endSessions(id);
    await this.db.tx.providerIdentity.deleteMany({ where: { organisationId, membershipId: id } });
  }

  /** By the clock of the database, which says when a session was begun. */
  private async endSessions(id: string): Promise<void> {
    await this.db.tx.$executeRaw`
      UPDATE memberships SET sessions_valid_from = clock_timestamp()
      WHERE organisation_id = ${this.db.actor.organisationId}::uuid AND id = ${id}::uuid`;
  }

  async organisationName(): Promise<string> {
    const { name } = await this.db.tx.organisation.findUniqueOrThrow({
      where: { id: this.db.actor.organisationId },
      select: { name: true },
    });
    return name;
  }
}
