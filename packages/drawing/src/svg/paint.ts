/** Where a drawing's colours come from: the page's custom properties (light and dark follow), or literal values. */
export type Paint = 'page' | 'light' | 'dark' | 'print';

export type PaintName =
  | 'panel'
  | 'ink'
  | 'ink-2'
  | 'ink-3'
  | 'rule'
  | 'rule-strong'
  | 'field'
  | 'block'
  | 'line'
  | 'fails'
  | 'fails-wash'
  | 'marginal'
  | 'unproven';

/**
 * Literal colours, the same as the web's tokens. Contrast of every text colour against its panel is at least 4.5 : 1 (asserted by a test).
 * `print` is black on white: statuses keep their shape and their word and lose only their colour.
 */
export const PALETTES: Readonly<Record<Exclude<Paint, 'page'>, Readonly<Record<PaintName, string>>>> = {
  light: {
    panel: '#fdfdfb',
    ink: '#1b1e20',
    'ink-2': '#4d5256',
    'ink-3': '#666b70',
    rule: '#e0ddd6',
    'rule-strong': '#aaa69c',
    field: '#e5e7e8',
    block: '#b9bec2',
    line: '#878d93',
    fails: '#a3221b',
    'fails-wash': '#fbe9e6',
    marginal: '#835400',
    unproven: '#3d4f6b',
  },
  dark: {
    panel: '#1d2022',
    ink: '#eceae5',
    'ink-2': '#b9bcbe',
    'ink-3': '#999da1',
    rule: '#33373a',
    'rule-strong': '#62676c',
    field: '#2f3437',
    block: '#5a6066',
    line: '#858b91',
    fails: '#ff8f85',
    'fails-wash': '#43221f',
    marginal: '#e2aa43',
    unproven: '#abbfde',
  },
  print: {
    panel: '#ffffff',
    ink: '#000000',
    'ink-2': '#000000',
    'ink-3': '#333333',
    rule: '#cccccc',
    'rule-strong': '#666666',
    field: '#e8e8e8',
    block: '#999999',
    line: '#444444',
    fails: '#000000',
    'fails-wash': '#ffffff',
    marginal: '#000000',
    unproven: '#000000',
  },
};

/** Gives the value for a `fill` or `stroke`. */
export function toColour(paint: Paint, name: PaintName): string {
  return paint === 'page' ? `var(--${name})` : PALETTES[paint][name];
}
