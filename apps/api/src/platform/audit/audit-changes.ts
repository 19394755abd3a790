import { auditEntrySchema, type AuditEntry } from '@repo/contracts';
import { storedDocument } from '../documents/index.js';

/** What was changed, as the trail holds it. */
export const auditChanges = storedDocument<AuditEntry['changes']>({
  name: 'changes of an entry of the audit trail',
  schema: auditEntrySchema.shape.changes,
});
