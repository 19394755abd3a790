import { Injectable } from '@nestjs/common';
import { Db } from '../../platform/db/index.js';

@Injectable()
export class AuditEntriesRepository {
  constructor(private readonly db: Db) {}

  list(
    filter: { entity?: string | undefined; entityId?: string | undefined },
    after: readonly (string | number)[] | null,
    limit: number,
  ) {
    return this.db.tx.auditEntry.findMany({
      where: {
        organisationId: this.db.actor.organisationId,
        ...(filter.entity === undefined ? {} : { entity: filter.entity }),
        ...(filter.entityId === undefined ? {} : { entityId: filter.entityId }),
        ...(after === null
          ? {}
          : {
              OR: [
                { at: { lt: new Date(String(after[0])) } },
                { at: new Date(String(after[0])), id: { lt: String(after[1]) } },
              ],
            }),
      },
      include: { auditSealsByAuditEntryId: { select: { sequence: true, hash: true } } },
      orderBy: [{ at: 'desc' }, { id: 'desc' }],
      take: limit + 1,
    });
  }
}
