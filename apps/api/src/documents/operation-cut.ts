import { cutSchema, requiredOfCutSchema, typedRequiredSchema } from '@repo/contracts';
import { z } from 'zod';
import { formerShape, storedDocument } from '../platform/documents/index.js';

const operationCutSchema = z.object({
  /** as it was described */
  cut: cutSchema.nullable(),
  /** what was computed from it */
  computed: requiredOfCutSchema.nullable(),
  /** what was typed before */
  typedRequired: typedRequiredSchema.nullable(),
});
/** How an operation's cut lies in its row. */
export type StoredCut = z.infer<typeof operationCutSchema>;

export const operationCut = storedDocument<StoredCut>({
  name: 'cut of an operation',
  schema: operationCutSchema,
  former: [
    // Of operations from before a cut could be described.
    formerShape(z.strictObject({}), () => ({ cut: null, computed: null, typedRequired: null })),
  ],
});

const computedForProofsSchema = requiredOfCutSchema
  .pick({ status: true, governingCase: true, supportLoads: true, spread: true, locatorLimit: true })
  .nullable();

/** The part of it that proofs read, of thousands of operations at once; null: nothing was computed. */
export const computedForProofs = storedDocument<z.infer<typeof computedForProofsSchema>>({
  name: 'required pressure of an operation, as it was computed',
  schema: computedForProofsSchema,
});
