import { alarmEvidenceSchema, silenceEvidenceSchema, type AlarmEvidence, type SilenceEvidence } from '@repo/contracts';
import { z } from 'zod';
import { formerShape, storedDocument } from '../platform/documents/index.js';

/** Why a part of the product opened an issue: what an alarm rule counted, or when reports stopped; null: it was opened otherwise. */
export const issueEvidence = storedDocument<AlarmEvidence | SilenceEvidence | null>({
  name: 'evidence of an issue',
  schema: z.union([alarmEvidenceSchema, silenceEvidenceSchema]),
  former: [formerShape(z.strictObject({}), () => null)],
});

type Evidence = ReturnType<typeof issueEvidence.read>;
export const isOfAlarms = (evidence: Evidence): evidence is AlarmEvidence => evidence !== null && 'rule' in evidence;
export const isOfSilence = (evidence: Evidence): evidence is SilenceEvidence =>
  evidence !== null && 'silences' in evidence;
