import { z } from 'zod';

/** Where the chain of an organisation stood on a day: one line of the file that keeps them. */
const headSchema = z.object({
  date: z.iso.date(),
  organisationId: z.uuid(),
  sequence: z.int().min(1),
  hash: z.string().regex(/^[0-9a-f]{64}$/),
});
export type AuditHead = z.infer<typeof headSchema>;

export const HEADS_FILE = 'audit-heads.jsonl';

export const writeHeads = (heads: readonly AuditHead[]): string =>
  heads.map((head) => `${JSON.stringify(head)}\n`).join('');

/**
 * The heads in the text of such a file. A last line without its end was cut off while it was written, and says nothing.
 * @throws when any other line is no head
 */
export function readHeads(text: string): AuditHead[] {
  return text
    .split('\n')
    .slice(0, -1)
    .filter((line) => line !== '')
    .map((line, index) => {
      const parsed = headSchema.safeParse(parseJson(line));
      if (!parsed.success) throw new Error(`line ${index + 1} is no head of an audit chain`);
      return parsed.data;
    });
}

function parseJson(line: string): unknown {
  try {
    return JSON.parse(line);
  } catch (error) {
    if (error instanceof SyntaxError) return null;
    throw error;
  }
}
