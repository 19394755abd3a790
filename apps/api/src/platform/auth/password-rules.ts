import { dictionary } from '@zxcvbn-ts/language-common';

let common: Set<string> | null = null;

/** The list is kept up by its package: about 49,000 passwords from published leaks, the most frequent first. */
const isCommon = (password: string): boolean => {
  common ??= new Set(dictionary['passwords-common'] as string[]);
  return common.has(password);
};

/** One piece of up to four characters said again and again, or a run along the alphabet or the digits. */
function isTrivial(password: string): boolean {
  const characters = [...password];
  const isRepeated = [1, 2, 3, 4].some((length) =>
    characters.every((character, index) => character === characters[index % length]),
  );
  const points = characters.map((character) => character.codePointAt(0) ?? 0);
  const steps = points.slice(1).map((point, index) => point - (points[index] ?? 0));
  return isRepeated || (Math.abs(steps[0] ?? 0) === 1 && steps.every((step) => step === steps[0]));
}

/** Why a new password is refused. */
export type PasswordFault = 'common' | 'trivial' | 'own-name';

/**
 * What a new password may not be, beyond its length: among the common ones, with or without digits behind it; one piece repeated,
 * a plain run; the e-mail's name. null when it is good.
 */
export function findPasswordFault(password: string, email: string): PasswordFault | null {
  const folded = password.normalize('NFKC').toLowerCase();
  if (isTrivial(folded)) return 'trivial';
  const word = folded.replace(/[\d\s!?.]+$/u, '');
  if (isCommon(folded) || (word.length >= 4 && isCommon(word) && folded.length - word.length <= 4)) return 'common';
  const name = email.split('@', 1)[0]?.toLowerCase() ?? '';
  if (name.length >= 4 && folded.includes(name)) return 'own-name';
  return null;
}
