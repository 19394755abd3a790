import { isAhead } from '../clock/tolerance.js';
import { invalidField } from '../errors/app-error.js';

/** What is recorded has happened: an instant in the future is refused. */
export function assertNotAhead(field: string, instant: string): void {
  if (isAhead(instant)) throw invalidField(field, instant, 'an instant that has passed', 'future');
}
