import { alarmEvidenceSchema, type AlarmEvidence } from '@repo/contracts';
import { z } from 'zod';
import { formerShape, storedDocument } from '../platform/documents/index.js';

/** What an alarm rule counted, of an issue that it opened; null: the issue was opened otherwise. */
export const alarmEvidence = storedDocument<AlarmEvidence | null>({
  name: 'evidence of an issue',
  schema: alarmEvidenceSchema,
  former: [formerShape(z.strictObject({}), () => null)],
});
