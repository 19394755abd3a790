import { ELEMENT_FIGURES, factNameOf, fromFigures, mapFigures, unsaidOf, type SiOf } from '@repo/calc/figures';
import { fixtureSchema } from '@repo/contracts';
import { z } from 'zod';
import { formerShape, storedDocument } from '../platform/documents/index.js';

type Si = SiOf<typeof ELEMENT_FIGURES>;
const vectorSchema = z.tuple([z.number(), z.number(), z.number()]);
const siSchema = z.object({
  ...fromFigures<{ [N in keyof Si]: z.ZodNullable<z.ZodNumber> }>(ELEMENT_FIGURES, (name, figure) =>
    figure.type === 'quantity' ? [[factNameOf(name, figure), z.number().nullable()]] : [],
  ),
  places: z.array(z.object({ pointM: vectorSchema, direction: vectorSchema })),
});
const elementSchema = fixtureSchema.shape.elements.element.extend({ si: siSchema });
export type StoredElement = z.infer<typeof elementSchema>;

/** What elements from before a figure was asked for do not say. */
const UNSAID = {
  ...mapFigures<Record<keyof typeof ELEMENT_FIGURES, null>>(ELEMENT_FIGURES, unsaidOf),
  places: [],
};
const UNSAID_SI = {
  ...fromFigures<Record<keyof Si, null>>(ELEMENT_FIGURES, (name, figure) =>
    figure.type === 'quantity' ? [[factNameOf(name, figure), null]] : [],
  ),
  places: [],
};
const { id, kind, name, quantity, ...later } = elementSchema.shape;
const formerSchema = z
  .object(later)
  .omit({ si: true })
  .partial()
  .extend({ id, kind, name, quantity, si: siSchema.partial() });

export const fixtureElements = storedDocument<StoredElement[]>({
  name: 'elements of a fixture',
  schema: z.array(elementSchema),
  former: [
    formerShape(z.array(formerSchema), (elements) =>
      elements.map(({ si, ...element }) => ({ ...UNSAID, ...element, si: { ...UNSAID_SI, ...si } })),
    ),
  ],
});
