import type { CircuitFacts, FormerProofInput, PressureLadderInput } from '@repo/calc';
import { sizingDocumentSchema, storedStaleReasonSchema, type SizingDocument } from '@repo/contracts';
import { z } from 'zod';
import { asStored, storedDocument } from '../../platform/documents/index.js';
import { circuitFactsSchema, pressureLadderInputSchema, proofInputSchema, supplyInputSchema } from './sizing-inputs.js';

type Stored<F extends SizingDocument['format'], I> = Omit<SizingDocument, 'format' | 'input'> & { format: F; input: I };
/**
 * Version 1 stands on the pressure ladder's input alone, 2 on what is shared, 3 on the inputs of all checks, 4 on what is recorded, from
 * which those inputs are derived; each is computed again as it was made.
 */
export type StoredDocument =
  | Stored<'kedge-sizing/1', PressureLadderInput>
  | Stored<'kedge-sizing/2', FormerProofInput>
  | Stored<'kedge-sizing/3', FormerProofInput>
  | Stored<'kedge-sizing/4', CircuitFacts>;

const ofFormat = <F extends SizingDocument['format']>(format: F, input: z.ZodType) =>
  sizingDocumentSchema.extend({ format: z.literal(format), input });

/** What the canonical text of a sizing record holds. It is hashed, so it is never stepped up: each format is read as it was made. */
export const sizingDocument = storedDocument<StoredDocument>({
  name: 'document of a sizing record',
  schema: asStored<StoredDocument>(
    z.discriminatedUnion(
      'format',
      [
        ofFormat('kedge-sizing/1', pressureLadderInputSchema),
        ofFormat('kedge-sizing/2', supplyInputSchema),
        ofFormat('kedge-sizing/3', proofInputSchema),
        ofFormat('kedge-sizing/4', circuitFactsSchema),
      ],
      { error: 'one of the formats kedge-sizing/1 to /4' },
    ),
  ),
});

/** Why a sizing record went stale. */
export const staleReasons = storedDocument({
  name: 'reasons why a sizing record is stale',
  schema: z.array(storedStaleReasonSchema),
});
