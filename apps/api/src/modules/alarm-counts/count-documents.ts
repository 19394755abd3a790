import { z } from 'zod';
import { storedDocument } from '../../platform/documents/index.js';

/** How often each kind of alarm was reported in an interval. */
export const reportedAlarms = storedDocument<Record<string, number>>({
  name: 'alarms of an interval',
  schema: z.record(z.string(), z.int()),
});

/** What was measured in it, if anything was. */
export const reportedMeasures = storedDocument<Record<string, number> | null>({
  name: 'measures of an interval',
  schema: z.record(z.string(), z.number()).nullable(),
});
