import { standingSchema } from '@repo/contracts';
import type { z } from 'zod';
import { storedDocument } from '../../platform/documents/index.js';

const standingSummarySchema = standingSchema.pick({
  circuitName: true,
  machineName: true,
  customerName: true,
  siteName: true,
  place: true,
  marks: true,
  checks: true,
  window: true,
  fixtureName: true,
  fixtureSince: true,
  settingsBasis: true,
  settingsOn: true,
});
/** What a row of the list shows, besides how it stands. */
export type StandingSummary = z.infer<typeof standingSummarySchema>;
export const standingSummary = storedDocument<StandingSummary>({
  name: 'summary of how a circuit stands',
  schema: standingSummarySchema,
});
