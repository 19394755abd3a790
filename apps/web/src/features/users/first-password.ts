/** Letters and digits that are not taken for each other when they are read out. */
const LETTERS = 'abcdefghijkmnpqrstuvwxyzABCDEFGHJKLMNPQRSTUVWXYZ23456789';
const LENGTH = 18;

/** A first password that nobody can guess: 18 characters in three groups, over 100 bits. */
export function createFirstPassword(): string {
  const limit = 256 - (256 % LETTERS.length);
  let text = '';
  while (text.length < LENGTH) {
    // Bytes past the last whole round would make the first letters likelier: they are thrown away.
    for (const byte of crypto.getRandomValues(new Uint8Array(LENGTH))) {
      if (byte < limit && text.length < LENGTH) text += LETTERS[byte % LETTERS.length] ?? '';
    }
  }
  return text.replace(/(.{6})(?=.)/g, '$1-');
}
