import { invalidField } from '../errors/app-error.js';

/** Clocks of tablets run ahead a little; more than this is a typing error. */
const TOLERANCE_MS = 5 * 60_000;

/** What is recorded has happened: an instant in the future is refused. */
export function assertNotAhead(field: string, instant: string): void {
  if (new Date(instant).getTime() > Date.now() + TOLERANCE_MS) {
    throw invalidField(field, instant, 'an instant that has passed', 'future');
  }
}
