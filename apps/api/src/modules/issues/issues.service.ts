import { Injectable } from '@nestjs/common';
import {
  issueSchema,
  type InputOf,
  type Issue,
  type IssueComment,
  type IssueDetail,
  type routes,
} from '@repo/contracts';
import { isOfAlarms, isOfSilence, issueEvidence } from '../../documents/issue-evidence.js';
import { Audit } from '../../platform/audit/audit.js';
import type { Actor } from '../../platform/auth/actor.js';
import { AppError, invalidField, notFound } from '../../platform/errors/app-error.js';
import { Cursors } from '../../platform/http/cursor.js';
import { assertVersion } from '../../platform/http/etag.js';
import { isoOrNull } from '../../platform/http/quantity-out.js';
import { IssuesRepository, type IssueRow } from './issues.repository.js';

type Issues = typeof routes.issues;

const toIssue = (row: IssueRow): Issue => ({
  id: row.id,
  number: row.number,
  customerId: row.customer_id,
  customerName: row.customer_name,
  machineId: row.machine_id,
  machineName: row.machine_name,
  circuitId: row.circuit_id,
  circuitName: row.circuit_name,
  checkCode: row.check_code,
  kind: issueSchema.shape.kind.parse(row.kind),
  title: row.title,
  description: row.description,
  state: issueSchema.shape.state.parse(row.state),
  assigneeMembershipId: row.assignee_membership_id,
  assigneeName: row.assignee_name,
  closeReason: row.close_reason,
  openedAt: row.opened_at.toISOString(),
  openedByName: row.opened_by_name,
  openedByCustomer: row.opened_by_customer,
  closedAt: isoOrNull(row.closed_at),
  closedByName: row.closed_by_name,
  version: row.version,
});

const toComment = (row: Awaited<ReturnType<IssuesRepository['insertComment']>>): IssueComment => ({
  id: row.id,
  text: row.text,
  isInternal: row.isInternal,
  writtenAt: row.writtenAt.toISOString(),
  writtenByName: row.writtenByName,
});

@Injectable()
export class IssuesService {
  constructor(
    private readonly repository: IssuesRepository,
    private readonly cursors: Cursors,
    private readonly audit: Audit,
  ) {}

  async list(query: InputOf<Issues['list']>['query']) {
    const after = this.cursors.read('issues', query.cursor, 2);
    const { state, machineId, assigneeMembershipId } = query;
    const rows = await this.repository.list({ state, machineId, assigneeMembershipId }, after, query.limit);
    const page = this.cursors.page('issues', rows, query.limit, (row) => [row.opened_at.toISOString(), row.id]);
    return { items: page.rows.map(toIssue), nextCursor: page.nextCursor };
  }

  async get(id: string): Promise<IssueDetail> {
    const row = await this.repository.find(id);
    if (row === null) throw notFound();
    const comments = await this.repository.listComments(id);
    // A customer's people are told nothing of it.
    const stored = await this.repository.findEvidence(id);
    const found = stored === null ? null : issueEvidence.read(stored, `issue ${row.number}`);
    const evidence = isOfAlarms(found) ? found : null;
    const silence = isOfSilence(found) ? found : null;
    return { ...toIssue(row), comments: comments.map(toComment), evidence, silence };
  }

  async create(body: InputOf<Issues['create']>['body'], actor: Actor): Promise<IssueDetail> {
    const machine = await this.repository.findMachine(body.machineId);
    if (machine === null) throw notFound();
    if (body.circuitId !== null && (await this.repository.findMachineOfCircuit(body.circuitId)) !== body.machineId) {
      throw invalidField('circuitId', body.circuitId, 'a circuit of this machine');
    }
    const number = await this.repository.nextNumber();
    const kind = actor.customerId === null ? body.kind : 'reported';
    await this.repository.insert({ ...body, kind, number, customerId: machine.customerId });
    await this.record('open', body.id, machine.customerId, { number, title: body.title });
    return this.get(body.id);
  }

  async update(id: string, version: number, body: InputOf<Issues['update']>['body']): Promise<IssueDetail> {
    const before = await this.getAt(id, version);
    if (before.state === 'closed') throw new AppError('issue.closed');
    const { title, description, assigneeMembershipId } = body;
    if (typeof assigneeMembershipId === 'string' && !(await this.repository.isAssignable(assigneeMembershipId))) {
      throw invalidField('assigneeMembershipId', assigneeMembershipId, "a person of the integrator's");
    }
    await this.write(id, version, {
      ...(title === undefined ? {} : { title }),
      ...(description === undefined ? {} : { description }),
      ...(assigneeMembershipId === undefined ? {} : { assigneeMembershipId }),
    });
    const { customerId } = before;
    await this.audit.record({
      action: 'update',
      entity: 'issue',
      entityId: id,
      customerId,
      changes: { ...body },
      before,
    });
    return this.get(id);
  }

  async comment(id: string, body: InputOf<Issues['comment']>['body'], actor: Actor): Promise<IssueComment> {
    const issue = await this.get(id);
    const isInternal = actor.customerId === null && body.isInternal;
    const { customerId } = issue;
    const row = await this.repository.insertComment({ ...body, isInternal, issueId: id, customerId });
    await this.record('comment', id, customerId, { commentId: body.id });
    return toComment(row);
  }

  async close(id: string, version: number, reason: string, actor: Actor): Promise<IssueDetail> {
    const before = await this.getAt(id, version);
    if (before.state === 'closed') throw new AppError('issue.closed');
    await this.write(id, version, {
      state: 'closed',
      closeReason: reason,
      closedAt: new Date(),
      closedByName: actor.displayName,
    });
    await this.record('close', id, before.customerId, { reason });
    return this.get(id);
  }

  async reopen(id: string, version: number, reason: string): Promise<IssueDetail> {
    const before = await this.getAt(id, version);
    if (before.state === 'open') throw new AppError('request.conflict', { detail: 'The issue is open.' });
    await this.write(id, version, { state: 'open', closeReason: '', closedAt: null, closedByName: '' });
    await this.record('reopen', id, before.customerId, { reason });
    return this.get(id);
  }

  private async getAt(id: string, version: number): Promise<IssueDetail> {
    const before = await this.get(id);
    assertVersion(before.version, version);
    return before;
  }

  private async write(id: string, version: number, data: Parameters<IssuesRepository['update']>[2]): Promise<void> {
    if (!(await this.repository.update(id, version, data))) throw new AppError('request.stale');
  }

  private record(
    action: string,
    entityId: string,
    customerId: string,
    changes: Record<string, unknown>,
  ): Promise<void> {
    return this.audit.record({ action, entity: 'issue', entityId, customerId, changes });
  }
}
