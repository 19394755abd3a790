import type { InterlockProofResult } from '@repo/calc';
import { z } from 'zod';
import { idSchema } from '../common/ids.js';

const stepSchema = z.object({
  event: z.string(),
  /** the code or signal concerned, where one is */
  signal: z.string().optional(),
  clamped: z.boolean(),
  spindle: z.boolean(),
  cutting: z.boolean(),
  alarm: z.boolean(),
});
const findingSchema = z.object({
  rule: z.string(),
  /** `none`: it breaks without any fault */
  fault: z.string(),
  /** it breaks whatever the control does about it: nothing short of a second channel covers it */
  needsSecondChannel: z.boolean(),
  /** a shortest way to it, step by step */
  story: z.array(stepSchema),
});

/** Whether a machine's interlock is sound: every rule in every state, or the shortest story that breaks it. */
export const interlockSchema = z
  .object({
    /** null: something is missing for every circuit */
    proof: z
      .object({
        states: z.int(),
        /** without a fault every rule holds, and no circuit shares a signal */
        sound: z.boolean(),
        shared: z.array(z.object({ signal: z.string(), stations: z.array(z.string()) })),
        stations: z.array(
          z.object({ name: z.string(), states: z.int(), holds: z.array(z.string()), broken: z.array(findingSchema) }),
        ),
      })
      .nullable(),
    /** circuits that cannot be proved, and why */
    missing: z.array(
      z.object({
        field: z.string(),
        ref: z.object({ entity: z.string(), id: idSchema, name: z.string() }).nullable(),
      }),
    ),
  })
  .meta({ id: 'Interlock' });
export type Interlock = z.infer<typeof interlockSchema>;

/** The compiler's proof that what the calculation gives is what the contract says. */
export const fromInterlockProof = ({
  states,
  sound,
  shared,
  stations,
}: InterlockProofResult): NonNullable<Interlock['proof']> => ({ states, sound, shared, stations });
