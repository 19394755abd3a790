import { PROBLEM_CODES, type ProblemCode, type ProblemError } from '@repo/contracts';

export interface AppErrorDetails {
  detail?: string;
  errors?: ProblemError[];
  currentEtag?: string;
  retryAfterS?: number;
  /** methods that are taken where another was asked for */
  allow?: readonly string[];
}

/** An error that a client may read: a code from the one table, and what belongs to it. */
export class AppError extends Error {
  constructor(
    readonly code: ProblemCode,
    readonly details: AppErrorDetails = {},
  ) {
    super(details.detail ?? PROBLEM_CODES[code].title);
    this.name = 'AppError';
  }
}

/** Not there, or not yours: the same answer. */
export const notFound = (): AppError => new AppError('request.not_found', { detail: 'There is no such record here.' });

/** One field that is not right. */
export const invalidField = (field: string, got: unknown, needs: string, code = 'rule'): AppError =>
  new AppError('request.invalid', {
    detail: `${field}: needs ${needs}.`,
    errors: [{ pointer: `/${field.replaceAll('.', '/')}`, field, got: JSON.stringify(got) ?? 'nothing', needs, code }],
  });
