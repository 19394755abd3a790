import { changeForms, findWords, formsOf, toWords, type MessageElements } from './elements';

const ACCENTED: Readonly<Record<string, string>> = {
  a: 'á', c: 'ç', e: 'ë', g: 'ğ', i: 'î', l: 'ľ', n: 'ñ', o: 'ö', r: 'ŕ', s: 'š', t: 'ţ', u: 'ü', y: 'ý', z: 'ž',
  A: 'Á', C: 'Ç', E: 'Ë', I: 'Î', N: 'Ñ', O: 'Ö', S: 'Š', T: 'Ţ', U: 'Ü',
}; // prettier-ignore
const LONGER_BY = 0.4;

/** Letters of a message in its longest form. */
export function countLetters(message: MessageElements): number {
  const counts = message.map(
    (element) => findWords(element)?.length ?? Math.max(0, ...formsOf(element).map(countLetters)),
  );
  return counts.reduce((sum, count) => sum + count, 0);
}

const accent = (message: MessageElements): MessageElements =>
  message.map((element) => {
    const words = findWords(element);
    if (words === null) return changeForms(element, accent);
    return toWords([...words].map((letter) => ACCENTED[letter] ?? letter).join(''));
  });

/** A language of nobody: every word from the catalogue is accented, bracketed and 40 % longer, so that one that is not stands out. */
export function toPseudo(message: MessageElements): MessageElements {
  const padding = '·'.repeat(Math.ceil(countLetters(message) * LONGER_BY));
  return [toWords('['), ...accent(message), toWords(`${padding}]`)];
}
