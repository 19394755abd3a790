import { z } from 'zod';
import { AppError } from '../errors/app-error.js';
import { toProblemErrors } from '../http/problem-errors.js';

/** A shape that a document had before, and how it becomes one of today. */
interface FormerShape<T> {
  /** the document of today; null: it is not of this shape */
  readonly stepUp: (stored: unknown) => { readonly value: T } | null;
}
export const formerShape = <Stored, T>(schema: z.ZodType<Stored>, up: (stored: Stored) => T): FormerShape<T> => ({
  stepUp: (stored) => {
    const found = schema.safeParse(stored);
    return found.success ? { value: up(found.data) } : null;
  },
});

/**
 * A schema of what must hold of a document, which is then given as it is stored, to the last digit and with all that the schema does
 * not name: for what is hashed, compared or computed again.
 */
export const asStored = <T>(schema: z.ZodType): z.ZodType<T> =>
  z.custom<T>().superRefine((stored, context) => {
    for (const issue of schema.safeParse(stored).error?.issues ?? []) context.addIssue({ ...issue });
  });

export interface StoredDocument<T> {
  readonly name: string;
  /**
   * @param whose of whom it is, where that helps to find it
   * @throws AppError record.unreadable
   */
  read(stored: unknown, whose?: string): T;
  /** @throws AppError record.unreadable */
  readText(text: string, whose?: string): T;
  /** The same for a list, which shows the others all the same; null: it cannot be read. */
  readOrNull(stored: unknown): T | null;
  /** What is to be stored, once it is sure that it can be read again. */
  write(value: T): T;
}

/**
 * A document that is kept whole in a column: it is read by its schema and by nothing else, older shapes are stepped up, and one that is
 * of none of its shapes says so.
 * @param name as a person would say it, after “what is stored as”
 */
export function storedDocument<T>({
  name,
  schema,
  former = [],
}: {
  name: string;
  schema: z.ZodType<T>;
  former?: readonly FormerShape<T>[];
}): StoredDocument<T> {
  const find = (stored: unknown): { value: T } | { error: z.ZodError } => {
    const found = schema.safeParse(stored);
    if (found.success) return { value: found.data };
    for (const { stepUp } of former) {
      const stepped = stepUp(stored);
      if (stepped !== null) return stepped;
    }
    return { error: found.error };
  };
  const refuse = (why: string, whose: string): string =>
    `What is stored as ${name}${whose === '' ? '' : ` (${whose})`} cannot be read: ${why}.`;
  const read = (stored: unknown, whose = ''): T => {
    const found = find(stored);
    if ('value' in found) return found.value;
    // Its place alone: what is stored there may not be for whoever asks.
    const [first] = toProblemErrors(found.error, stored, '');
    const where = first === undefined || first.pointer === '' ? '' : `${first.pointer} `;
    throw new AppError('record.unreadable', {
      detail: refuse(`${where}needs ${first?.needs ?? 'another shape'}`, whose),
    });
  };
  return {
    name,
    read,
    readText: (text, whose = '') => {
      let stored: unknown;
      try {
        stored = JSON.parse(text);
      } catch (error) {
        if (!(error instanceof SyntaxError)) throw error;
        throw new AppError('record.unreadable', { detail: refuse('it is no JSON', whose) });
      }
      return read(stored, whose);
    },
    readOrNull: (stored) => {
      const found = find(stored);
      return 'value' in found ? found.value : null;
    },
    write: (value) => {
      const found = schema.safeParse(value);
      if (!found.success) throw new Error(`${name}: what is to be stored is not of its schema: ${found.error.message}`);
      return value;
    },
  };
}
