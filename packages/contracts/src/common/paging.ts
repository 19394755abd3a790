import { z } from 'zod';

export const pageQueryShape = {
  cursor: z.string().max(1000).optional().meta({ description: 'opaque; from the answer before' }),
  limit: z.coerce.number().int().min(1).max(200).default(50),
};
/** What is looked for in the names of records: every word of it, in any order. */
export const searchSchema = z.string().trim().max(80).optional();
export const pageQuerySchema = z.strictObject(pageQueryShape);

/** A page of records and the cursor of the next one; null on the last page. Also in the Link header. */
export const pageOf = <T extends z.ZodType>(item: T) =>
  z.object({
    items: z.array(item),
    nextCursor: z.string().nullable(),
    unreadable: z
      .int()
      .min(0)
      .default(0)
      .meta({ description: 'records of this page that are left out, since what is stored of them cannot be read' }),
  });
