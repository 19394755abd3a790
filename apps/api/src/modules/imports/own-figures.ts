import { toWords } from '@repo/calc/figures';
import { COMPONENT_FIGURE_COLUMNS, type ComponentFigureColumns } from '@repo/contracts';
import { parseQuantity, toSi } from '@repo/quantity';
import { componentFigures, type StoredFigures } from '../../documents/component-figures.js';
import { decimalsOf } from './decimals.js';
import type { DerivedColumn } from './derived-columns.js';
import { fold, isSame } from './plan-model.js';

/** As its heading has it; in a cell a figure is called so. */
const BY_WORDS: ReadonlyMap<string, ComponentFigureColumns> = new Map(
  COMPONENT_FIGURE_COLUMNS.map((columns) => [toWords(columns.figure), columns]),
);

/** No name and no value of a figure is as long. */
const LONGEST = 100;

/** Behind the bracket that closes the source that begins at `opened`; a bracket inside has a stroke before it. Null: it is never closed. */
function endOfSource(text: string, opened: number): number | null {
  for (let at = opened + 1; at < text.length; at += 1) {
    if (text[at] === ']') return at + 1;
    if (text[at] === '\\') {
      at += 1;
      if (text[at] !== ']' && text[at] !== '\\') return null;
    }
  }
  return null;
}

/**
 * One figure of a cell from a place on: its name, its value, and in brackets where it comes from; null where there is none. Units may have
 * brackets too, so that its source is what ends it. Looked for piece by piece: an expression would try every way to share out a cell of spaces.
 */
function findFigure(text: string, from: number): { name: string; amount: string; source: string; next: number } | null {
  const equals = text.slice(from, from + LONGEST).indexOf('=') + from;
  const name = text.slice(from, Math.max(from, equals)).trim();
  if (name === '' || /[;[\]]/.test(name)) return null;
  const most = Math.min(text.length, equals + LONGEST);
  for (let at = equals + 1; at < most; at += 1) {
    if (text[at] === '=' || text[at] === ';') return null;
    if (text[at] !== '[') continue;
    const end = endOfSource(text, at);
    if (end === null) return null;
    const rest = text.slice(end).trimStart();
    if (rest !== '' && !rest.startsWith(';')) continue;
    const semicolon = text.indexOf(';', end);
    const source = text.slice(at + 1, end - 1).replace(/\\([\]\\])/g, '$1');
    return {
      name,
      amount: text.slice(equals + 1, at).trim(),
      source: source.trim(),
      next: semicolon < 0 ? text.length : semicolon + 1,
    };
  }
  return null;
}

/** `inner diameter = 6 mm [measured]; length = 2 m [drawing 12]`. */
export const toOwnText = (figures: StoredFigures): string =>
  Object.entries(figures)
    .sort(([one], [other]) => (one < other ? -1 : 1))
    .map(([name, { value, unit, source }]) => {
      const escaped = source.replaceAll(/[\\\]]/g, '\\$&');
      return `${toWords(name)} = ${unit === '1' ? value : `${value} ${unit}`} [${escaped}]`;
    })
    .join('; ');

/** The figures that a cell names; `got` is where it cannot be read. */
export function readOwnFigures(text: string): { figures: StoredFigures } | { got: string } {
  const figures: Record<string, StoredFigures[string]> = {};
  let from = 0;
  while (text.slice(from).trim() !== '') {
    const unread = { got: text.slice(from, from + 60).trim() };
    const found = findFigure(text, from);
    const columns = found === null ? undefined : BY_WORDS.get(fold(found.name));
    if (found === null || columns === undefined || found.source === '' || columns.figure in figures) return unread;
    const { amount, source, next } = found;
    from = next;
    const read = parseQuantity(amount, { kind: columns.kind });
    if (!read.ok) return unread;
    const { value, unit } = read.quantity;
    const si = toSi(value, unit, columns.kind);
    // A plain number is kept as one, however a cell has it: 98 % is 0.98.
    const typed = columns.kind === 'ratio' ? { value: si, unit: '1' } : { value, unit, digits: decimalsOf(value) };
    figures[columns.figure] = { ...typed, source, si };
  }
  return { figures };
}

const readCell = (cell: unknown): StoredFigures => {
  const read = readOwnFigures(typeof cell === 'string' ? cell : '');
  // What cannot be read was refused when the row was decided.
  return 'figures' in read ? read.figures : {};
};

/** Figures of a cell that are otherwise than those of the same name that are there, and those that are not there yet. */
export function compareOwn(before: StoredFigures, figures: StoredFigures): { otherwise: string[]; added: string[] } {
  const names = Object.keys(figures);
  const isAsBefore = (name: string): boolean => {
    const [stored, typed] = [before[name], figures[name]];
    return stored !== undefined && typed !== undefined && isSame(stored.si, typed.si) && stored.source === typed.source;
  };
  return {
    otherwise: names.filter((name) => name in before && !isAsBefore(name)),
    added: names.filter((name) => !(name in before)),
  };
}

/** The figures that a component has of its own lie in one cell; one that says the same as before stays as it was typed. */
export const OWN_FIGURES_COLUMN: DerivedColumn = {
  column: 'figures',
  type: 'jsonb',
  fields: ['ownFigures'],
  read: (stored, whose) => {
    const figures = componentFigures.read(stored, whose);
    const text = toOwnText(figures);
    return Object.fromEntries(text === '' ? [] : [['ownFigures', text]]);
  },
  make: (before, valueOf) => {
    const stored = before === null ? {} : componentFigures.read(before.figures);
    const figures = readCell(valueOf('ownFigures'));
    const { otherwise, added } = compareOwn(stored, figures);
    const taken = new Set([...otherwise, ...added]);
    const changed = Object.entries(figures).filter(([name]) => taken.has(name));
    return componentFigures.write({ ...stored, ...Object.fromEntries(changed) });
  },
};
