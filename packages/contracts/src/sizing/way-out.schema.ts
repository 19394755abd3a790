import type { WayOut } from '@repo/calc';
import { CHECK_CODES } from '@repo/calc/checks';
import { z } from 'zod';

const refSchema = z.object({ entity: z.string(), id: z.string(), name: z.string() });

/** One thing to do: a figure brought between two ends, or something that is so or not. SI numbers, of `kind`. */
const wayOutChangeSchema = z.object({
  code: z.string(),
  kind: z.enum([
    'pressure',
    'time',
    'power',
    'voltage',
    'current',
    'force',
    'flow',
    'volume',
    'area',
    'length',
    'ratio',
    'none',
  ]),
  ref: refSchema.nullable(),
  /** the record and the figure of it that is set */
  holder: z.string(),
  id: z.string(),
  field: z.string(),
  from: z.number().nullable(),
  /** null: nothing bounds it on that side */
  lowest: z.number().nullable(),
  highest: z.number().nullable(),
  /** what goes with it: how far a set point lies above its reset point, full flow above opening */
  apart: z.number().nullable(),
  /** the air that goes with a setting, at both ends of its range; left out: it stays as it is */
  air: z.object({ lowest: z.number().nullable(), highest: z.number().nullable() }).optional(),
  choice: z.string().nullable(),
  /** other circuits that it reaches: what it does to them is not looked at */
  alsoReaches: z.array(refSchema),
});

/** What makes every check of a circuit hold, in the order in which it is done; or what bounds it. */
export const wayOutSchema = z
  .object({
    outcome: z.enum(['nothing', 'whole', 'to-record', 'none']),
    changes: z.array(wayOutChangeSchema),
    /** it is shown that no fewer changes do; else no shorter way was found */
    isFewest: z.boolean(),
    /** figures that somebody has to find out */
    records: z.array(z.object({ field: z.string(), ref: refSchema.nullable() })),
    /** checks that no set of changes makes hold */
    bounds: z.array(
      z.object({
        code: z.enum(CHECK_CODES),
        reason: z.string(),
        subject: refSchema.nullable(),
        demand: z.number().nullable(),
        capacity: z.number().nullable(),
        /** of what no pressure holds: the load case */
        loadCase: z.string().nullable(),
      }),
    ),
  })
  .meta({ id: 'WayOut' });
export type WayOutAnswer = z.infer<typeof wayOutSchema>;
/** The compiler's proof that what the calculation gives is what the contract says. */
export const fromWayOut = ({ outcome, changes, isFewest, records, bounds }: WayOut): WayOutAnswer => ({
  outcome,
  changes: changes.map((change) => ({ ...change, alsoReaches: [...change.alsoReaches] })),
  isFewest,
  records: [...records],
  bounds: [...bounds],
});
