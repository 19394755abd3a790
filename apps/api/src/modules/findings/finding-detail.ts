import { contenderSchema, instantSchema } from '@repo/contracts';
import { z } from 'zod';
import { storedDocument } from '../../platform/documents/index.js';

const findingDetailSchema = z.object({
  /** reports that contradict each other */
  contenders: z.array(contenderSchema).default([]),
  /** of a part of a delivery that could not be taken in: which it was, of which machine, with how many intervals, and the part itself */
  item: z.int().default(0),
  machine: z.string().optional(),
  intervals: z.int().default(0),
  part: z.unknown().optional(),
  /** of many parts of one kind in one delivery: how many, and all of them; of many contradictions: how many intervals */
  subjects: z.int().default(1),
  parts: z.array(z.object({ item: z.int(), part: z.unknown().optional() })).optional(),
  /** of many contradictions: where they lie; of their reports only some are contenders here */
  stretch: z.object({ from: instantSchema, to: instantSchema }).optional(),
  /** of another body under the same id: its beginning, its length and its hash */
  body: z.string().optional(),
  bytes: z.int().optional(),
  sha256: z.string().optional(),
});
/** What a finding keeps, as it is written: of the kinds of members those that belong to its kind. */
export type FindingDetail = z.input<typeof findingDetailSchema>;

export const findingDetail = storedDocument({ name: 'detail of a finding', schema: findingDetailSchema });
