import { Injectable } from '@nestjs/common';
import { Db, Numbers, Prisma } from '../../platform/db/index.js';

export interface IssueRow {
  id: string;
  number: number;
  customer_id: string;
  customer_name: string;
  machine_id: string | null;
  machine_name: string | null;
  circuit_id: string | null;
  circuit_name: string | null;
  check_code: string | null;
  kind: string;
  title: string;
  description: string;
  state: string;
  assignee_membership_id: string | null;
  assignee_name: string | null;
  close_reason: string;
  opened_at: Date;
  opened_by_name: string;
  opened_by_customer: boolean;
  closed_at: Date | null;
  closed_by_name: string;
  version: number;
}

@Injectable()
export class IssuesRepository {
  constructor(
    private readonly db: Db,
    private readonly numbers: Numbers,
  ) {}

  private get organisationId(): string {
    return this.db.actor.organisationId;
  }

  /** A customer's people cannot read who works for the integrator; to them nobody is assigned. */
  private select(where: readonly Prisma.Sql[], tail: Prisma.Sql): Promise<IssueRow[]> {
    const isStaff = this.db.actor.customerId === null;
    const assignee = isStaff
      ? Prisma.sql`p.display_name AS assignee_name, i.assignee_membership_id`
      : Prisma.sql`NULL AS assignee_name, NULL::uuid AS assignee_membership_id`;
    const join = isStaff
      ? Prisma.sql`LEFT JOIN memberships p ON p.organisation_id = i.organisation_id AND p.id = i.assignee_membership_id`
      : Prisma.empty;
    return this.db.tx.$queryRaw<IssueRow[]>`
      SELECT i.id, i.number, i.customer_id, k.name AS customer_name, i.machine_id, m.name AS machine_name, i.circuit_id,
             c.name AS circuit_name, i.check_code, i.kind, i.title, i.description, i.state, ${assignee}, i.close_reason,
             i.opened_at, i.opened_by_name, i.opened_by_customer, i.closed_at, i.closed_by_name, i.version
      FROM issues i
      JOIN customers k ON k.organisation_id = i.organisation_id AND k.id = i.customer_id
      LEFT JOIN machines m ON m.organisation_id = i.organisation_id AND m.id = i.machine_id
      LEFT JOIN circuits c ON c.organisation_id = i.organisation_id AND c.id = i.circuit_id
      ${join}
      WHERE i.organisation_id = ${this.organisationId}::uuid AND ${Prisma.join(where, ' AND ')} ${tail}`;
  }

  async find(id: string): Promise<IssueRow | null> {
    const rows = await this.select([Prisma.sql`i.id = ${id}::uuid`], Prisma.empty);
    return rows[0] ?? null;
  }

  list(
    filter: {
      state: 'open' | 'closed' | 'all';
      machineId?: string | undefined;
      assigneeMembershipId?: string | undefined;
    },
    after: readonly (string | number)[] | null,
    limit: number,
  ): Promise<IssueRow[]> {
    const where = [Prisma.sql`true`];
    if (filter.state !== 'all') where.push(Prisma.sql`i.state = ${filter.state}`);
    if (filter.machineId !== undefined) where.push(Prisma.sql`i.machine_id = ${filter.machineId}::uuid`);
    if (filter.assigneeMembershipId !== undefined) {
      where.push(Prisma.sql`i.assignee_membership_id = ${filter.assigneeMembershipId}::uuid`);
    }
    if (after !== null) {
      where.push(Prisma.sql`(i.opened_at, i.id) < (${String(after[0])}::timestamptz, ${String(after[1])}::uuid)`);
    }
    return this.select(where, Prisma.sql`ORDER BY i.opened_at DESC, i.id DESC LIMIT ${limit + 1}`);
  }

  /** What an alarm rule opened the issue with. A customer's people have no right to read alarm counts: to them there is none. */
  async findEvidence(issueId: string): Promise<unknown> {
    if (this.db.actor.customerId !== null) return null;
    const issue = await this.db.tx.issue.findUnique({
      where: { organisationId_id: { organisationId: this.organisationId, id: issueId } },
      select: { evidence: true },
    });
    return issue?.evidence ?? null;
  }

  listComments(issueId: string) {
    return this.db.tx.issueComment.findMany({
      where: { organisationId: this.organisationId, issueId },
      orderBy: [{ writtenAt: 'asc' }, { id: 'asc' }],
      take: 1000,
    });
  }

  async findMachine(machineId: string): Promise<{ customerId: string } | null> {
    return this.db.tx.machine.findUnique({
      where: { organisationId_id: { organisationId: this.organisationId, id: machineId } },
      select: { customerId: true },
    });
  }

  async findMachineOfCircuit(circuitId: string): Promise<string | null> {
    const circuit = await this.db.tx.circuit.findUnique({
      where: { organisationId_id: { organisationId: this.organisationId, id: circuitId } },
      select: { machineId: true },
    });
    return circuit?.machineId ?? null;
  }

  /** Is there such a person of the integrator, still with us? */
  async isAssignable(membershipId: string): Promise<boolean> {
    const found = await this.db.tx.membership.count({
      where: { organisationId: this.organisationId, id: membershipId, customerId: null, archivedAt: null },
    });
    return found === 1;
  }

  nextNumber(): Promise<number> {
    return this.numbers.next('issue');
  }

  async insert(
    data: Omit<Prisma.IssueUncheckedCreateInput, 'organisationId' | 'openedBy' | 'openedByName'>,
  ): Promise<void> {
    const { actor } = this.db;
    await this.db.tx.issue.create({
      data: {
        ...data,
        organisationId: this.organisationId,
        openedBy: actor.membershipId,
        openedByName: actor.displayName,
        openedByCustomer: actor.customerId !== null,
      },
    });
  }

  async update(id: string, version: number, data: Prisma.IssueUncheckedUpdateManyInput): Promise<boolean> {
    const { count } = await this.db.tx.issue.updateMany({
      where: { organisationId: this.organisationId, id, version },
      data: { ...data, version: { increment: 1 } },
    });
    return count === 1;
  }

  insertComment(data: { id: string; customerId: string; issueId: string; text: string; isInternal: boolean }) {
    const { actor } = this.db;
    return this.db.tx.issueComment.create({
      data: {
        ...data,
        organisationId: this.organisationId,
        writtenBy: actor.membershipId,
        writtenByName: actor.displayName,
      },
    });
  }
}
