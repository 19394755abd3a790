import { figureOutSchema, type FigureIn } from '@repo/contracts';
import { z } from 'zod';
import { storedDocument } from '../platform/documents/index.js';

/** Figures of a component as they are kept: as typed, with the SI value that proofs read beside. */
export type StoredFigures = Readonly<Record<string, FigureIn & { si: number }>>;

export const componentFigures = storedDocument<StoredFigures>({
  name: 'figures of a component',
  schema: z.record(z.string(), figureOutSchema.extend({ si: z.number() })),
});
