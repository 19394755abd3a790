import { Injectable } from '@nestjs/common';
import type { AuditEntry, InputOf, routes } from '@repo/contracts';
import { auditChanges } from '../../platform/audit/audit-changes.js';
import { Cursors } from '../../platform/http/cursor.js';
import { AuditEntriesRepository } from './audit-entries.repository.js';
import { AuditSubjectsService } from './audit-subjects.service.js';

type Row = Awaited<ReturnType<AuditEntriesRepository['list']>>[number];

const toAuditEntry = (row: Row) => {
  const seal = row.auditSealsByAuditEntryId[0];
  return {
    id: row.id,
    at: row.at.toISOString(),
    actorName: row.actorName,
    action: row.action,
    entity: row.entity,
    entityId: row.entityId,
    changes: auditChanges.read(row.changes, `${row.action} ${row.entity}`),
    requestId: row.requestId,
    sequence: seal?.sequence ?? null,
    hash: seal === undefined ? null : Buffer.from(seal.hash).toString('hex'),
  };
};

@Injectable()
export class AuditEntriesService {
  constructor(
    private readonly repository: AuditEntriesRepository,
    private readonly subjects: AuditSubjectsService,
    private readonly cursors: Cursors,
  ) {}

  async list(query: InputOf<(typeof routes.auditEntries)['list']>['query']) {
    const after = this.cursors.read('audit-entries', query.cursor, 2);
    const rows = await this.repository.list({ entity: query.entity, entityId: query.entityId }, after, query.limit);
    const page = this.cursors.page('audit-entries', rows, query.limit, (row) => [row.at.toISOString(), row.id]);
    const items: AuditEntry[] = await this.subjects.nameAll(page.rows.map(toAuditEntry));
    return { items, nextCursor: page.nextCursor };
  }
}
