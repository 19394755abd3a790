import { Injectable } from '@nestjs/common';
import { uuidv7 } from 'uuidv7';
import { Db } from '../db/db.js';
import { json } from '../db/json.js';
import { toldEdits } from './told-edits.js';

export interface AuditFact {
  action: string;
  entity: string;
  entityId: string;
  customerId?: string | null;
  /** what was said */
  changes?: Record<string, unknown>;
  /** the record as it was before, where what was said edits one: old values are then told beside new ones */
  before?: object;
}

/** What was said, of an edit each field with what it held before and holds now. */
export const toldChanges = ({
  changes = {},
  before,
}: Pick<AuditFact, 'changes' | 'before'>): Record<string, unknown> =>
  before === undefined ? changes : toldEdits({ ...before }, changes);

/** Writes who did what, in the same transaction as what they did. The sealer orders and chains the entries later. */
@Injectable()
export class Audit {
  constructor(private readonly db: Db) {}

  async record(...facts: AuditFact[]): Promise<void> {
    const { tx, actor, requestId } = this.db.current;
    await tx.auditEntry.createMany({
      data: facts.map((fact) => ({
        organisationId: actor.organisationId,
        id: uuidv7(),
        customerId: fact.customerId ?? null,
        actorMembershipId: actor.membershipId,
        actorName: actor.displayName,
        action: fact.action,
        entity: fact.entity,
        entityId: fact.entityId,
        changes: json(toldChanges(fact)),
        requestId,
      })),
    });
  }
}
