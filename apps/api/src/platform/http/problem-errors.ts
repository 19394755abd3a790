import type { ProblemError } from '@repo/contracts';
import type { z } from 'zod';
import { needsOf } from './needs.js';

const show = (value: unknown): string => {
  const text = value === undefined ? 'nothing' : JSON.stringify(value);
  return text.length > 120 ? `${text.slice(0, 117)}...` : text;
};

const at = (value: unknown, path: readonly PropertyKey[]): unknown =>
  path.reduce<unknown>(
    (inner, key) =>
      typeof inner === 'object' && inner !== null ? (inner as Record<PropertyKey, unknown>)[key] : undefined,
    value,
  );

/** More rows help nobody, and would make an answer many times as large as what was sent. */
const MOST_ROWS = 100;

/** The problem's rows: which field, what it got, what it needs. */
export function toProblemErrors(error: z.ZodError, value: unknown, root: string): ProblemError[] {
  const rows = error.issues.slice(0, MOST_ROWS).flatMap((issue) => {
    const unknown = issue.code === 'unrecognized_keys' ? issue.keys.slice(0, MOST_ROWS) : null;
    const paths = unknown === null ? [issue.path] : unknown.map((key) => [...issue.path, key]);
    const custom = issue.code === 'custom' ? (issue.params as { code?: string } | undefined)?.code : undefined;
    return paths.map((path) => ({
      pointer: `${root}${path.map((part) => `/${String(part).replaceAll('~', '~0').replaceAll('/', '~1')}`).join('')}`,
      field: path.map(String).join('.'),
      got: show(at(value, path)),
      needs: needsOf(issue),
      code: custom ?? issue.code,
    }));
  });
  return rows.slice(0, MOST_ROWS);
}
