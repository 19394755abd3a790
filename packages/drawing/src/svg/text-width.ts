/**
 * Widths of text without a browser, so that the server and the page lay a drawing out alike.
 * Advance widths in thousandths of the type size, characters 32 to 126.
 * Source: measured from the font files of @fontsource/ibm-plex-sans 5.3.0 (400 and 600) with a canvas in Chromium.
 */
const REGULAR = [
  236, 284, 419, 713, 598, 927, 694, 242, 335, 335, 450, 600, 272, 399, 272, 383, 600, 600, 600, 600, 600, 600, 600,
  600, 600, 600, 292, 292, 600, 600, 600, 477, 891, 641, 653, 621, 671, 583, 559, 695, 707, 400, 510, 634, 501, 812,
  707, 708, 606, 708, 640, 581, 572, 678, 609, 891, 613, 593, 580, 317, 383, 317, 600, 565, 600, 534, 580, 503, 580,
  549, 324, 528, 568, 250, 250, 527, 272, 873, 568, 560, 580, 580, 367, 487, 351, 568, 492, 768, 507, 499, 464, 343,
  314, 343, 600,
];
const SEMIBOLD = [
  236, 309, 471, 656, 600, 960, 713, 260, 337, 337, 556, 600, 299, 402, 299, 437, 600, 600, 600, 600, 600, 600, 600,
  600, 600, 600, 319, 319, 600, 600, 600, 493, 899, 672, 663, 642, 689, 600, 577, 712, 719, 423, 545, 678, 521, 817,
  719, 712, 641, 712, 664, 611, 580, 689, 638, 949, 655, 632, 599, 329, 437, 329, 600, 559, 600, 559, 600, 513, 600,
  558, 350, 545, 588, 275, 275, 562, 294, 888, 588, 563, 600, 600, 393, 499, 374, 588, 524, 819, 544, 524, 502, 363,
  376, 363, 600,
];
/** Letters beyond the table: the widest Latin letters are below this; ideographs are a full square. */
const OTHER_LETTER = 820;
const FULL_SQUARE = 1000;
/** IBM Plex Mono: every character is 600 wide. */
const MONO = 600;

export type Face = 'sans' | 'sans-bold' | 'mono';

/** Width of one line [px]. */
export function getTextWidth(text: string, face: Face, sizePx: number): number {
  let thousandths = 0;
  for (const character of text) thousandths += getAdvance(character, face);
  return (thousandths * sizePx) / 1000;
}

function getAdvance(character: string, face: Face): number {
  const code = character.codePointAt(0) ?? 0;
  if (code >= 0x2e80) return FULL_SQUARE;
  if (face === 'mono') return MONO;
  const table = face === 'sans' ? REGULAR : SEMIBOLD;
  return table[code - 32] ?? OTHER_LETTER;
}

/**
 * The lines over which a text goes so that none is wider than the room; joined they are the text, to the letter. A line ends after a space; a
 * word wider than the room goes on in the next line. A line holds one character at least, however little room there is.
 */
export function toWrapped(text: string, face: Face, sizePx: number, widthPx: number): string[] {
  const fits = (line: string): boolean => getTextWidth(line.trimEnd(), face, sizePx) <= widthPx;
  const lines: string[] = [];
  let line = '';
  for (const word of text.match(/\S+\s*|\s+/g) ?? []) {
    if (fits(line + word)) {
      line += word;
      continue;
    }
    if (line !== '') lines.push(line);
    line = '';
    for (const character of fits(word) ? [word] : word) {
      if (line !== '' && !fits(line + character)) {
        lines.push(line);
        line = '';
      }
      line += character;
    }
  }
  return [...lines, line];
}
