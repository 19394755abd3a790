import { AppError } from '../errors/app-error.js';

export const etagOf = (version: number): string => `"v${version}"`;

/** The version that If-Match names. Missing: 428; not one of ours: 412. */
export function versionFromIfMatch(header: string | undefined): number {
  if (header === undefined || header.trim() === '') throw new AppError('request.precondition_required');
  const parts = /^"v(0|[1-9]\d{0,8})"$/.exec(header.trim());
  if (parts?.[1] === undefined)
    throw new AppError('request.stale', { detail: 'If-Match names no version of this record.' });
  return Number(parts[1]);
}

/** Refuses a change to a record that somebody else changed meanwhile. */
export function assertVersion(current: number, wanted: number): void {
  if (current !== wanted) {
    throw new AppError('request.stale', {
      detail: 'The record was changed since you read it. Read it again, then decide.',
      currentEtag: etagOf(current),
    });
  }
}
