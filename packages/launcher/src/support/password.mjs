import { randomInt } from 'node:crypto';

/** Without letters and digits that look alike: it is read from a terminal and typed. */
const ALPHABET = 'abcdefghjkmnpqrstuvwxyz23456789';

/** A made-up password, four groups of four, about 79 bits. */
export function toTypablePassword() {
  const letters = Array.from({ length: 16 }, () => ALPHABET[randomInt(ALPHABET.length)]);
  return [0, 4, 8, 12].map((start) => letters.slice(start, start + 4).join('')).join('-');
}
