import { createHash } from 'node:crypto';
import type { z } from 'zod';

/** What creating a record like this one takes: everything of it that the contract asks for, but for what differs. */
export function asBody<S extends z.ZodObject>(schema: S, record: object, differing: object): z.output<S> {
  const asked = Object.entries(record).filter(([field]) => field in schema.shape);
  return schema.parse({ ...Object.fromEntries(asked), ...differing });
}

/**
 * The id of the record that stands in a copy for one of the original: the caller makes the copy's own id, and the same copy asked for
 * again names the same records. A UUID of version 7 that begins with the instant of the copy's.
 */
export function idInCopy(copyId: string, likeId: string): string {
  const hash = createHash('sha256').update(`${copyId} ${likeId}`).digest('hex');
  const variant = ((parseInt(hash.slice(15, 16), 16) & 0x3) | 0x8).toString(16);
  return `${copyId.slice(0, 13)}-7${hash.slice(12, 15)}-${variant}${hash.slice(16, 19)}-${hash.slice(19, 31)}`;
}
