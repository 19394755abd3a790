import { createHash } from 'node:crypto';
import {
  columnsOfEntity,
  FORM_LABELS,
  IMPORT_ENTITIES,
  IMPORT_FIELDS,
  importField,
  type ImportEntity,
  type ImportField,
} from '@repo/contracts';
import { parseQuantity, type QuantityKind } from '@repo/quantity';
import type { Cell, Sheet } from '../../platform/sheets/index.js';

/**
 * A heading and the unit that it names at its end: `Setting [bar]`, `pressure (psi)`. Found by position: an expression that looks for it
 * from every place would take hours for a long heading of brackets or spaces.
 */
export function splitHeading(heading: string): { name: string; unit: string | null } {
  const text = heading.trim();
  const whole = { name: text, unit: null };
  if (!text.endsWith(']') && !text.endsWith(')')) return whole;
  const inside = text.slice(0, -1);
  const closedBefore = Math.max(inside.lastIndexOf(']'), inside.lastIndexOf(')'));
  const opened = inside.slice(closedBefore + 1).search(/[[(]/);
  if (opened < 0) return whole;
  const name = inside.slice(0, closedBefore + 1 + opened).trim();
  const unit = inside.slice(closedBefore + 2 + opened).trim();
  return name === '' || unit === '' ? whole : { name, unit };
}

/** The UCUM unit that people spell so, for a kind of quantity. */
export function unitOf(spelling: string, kind: QuantityKind): string | null {
  const parsed = parseQuantity(`1 ${spelling}`, { kind });
  return parsed.ok ? parsed.quantity.unit : null;
}

const normalise = (text: string): string =>
  text
    .toLowerCase()
    .normalize('NFKD')
    .replaceAll(/\p{M}/gu, '')
    .replaceAll(/[^\p{L}\p{N}+/]+/gu, ' ')
    .trim();

/** No field is called so at length: what is longer is some text, and is not looked at. */
const LONGEST_NAME = 200;

/** Their headings name them, for their fields are called like those of others: alone, their words are nobody's. */
const SAYS_SO: ReadonlySet<ImportEntity> = new Set([
  'component-type',
  'fixture-element',
  'operation',
  'target-setting',
]);
const nameOf = (field: ImportField): string => field.name.replaceAll(/([A-Z])/g, ' $1');

type Index = ReadonlyMap<string, readonly ImportField[]>;

function indexOf(namesOf: (field: ImportField) => readonly string[]): Index {
  const index = new Map<string, ImportField[]>();
  for (const field of IMPORT_FIELDS) {
    for (const name of new Set(namesOf(field).map(normalise))) index.set(name, [...(index.get(name) ?? []), field]);
  }
  return index;
}
/** What a form asks with, without the unit or the remark that stands behind it in brackets. */
const labelsOf = ({ key }: ImportField): string[] => {
  const label = FORM_LABELS[key];
  return label === undefined ? [] : [label, splitHeading(label).name];
};
const isAlone = ({ entity }: ImportField): boolean => !SAYS_SO.has(entity);
/** By the headings of templates and exports, which go first. */
const BY_HEADER = new Map([...IMPORT_FIELDS].reverse().map((field) => [normalise(field.header), field]));
/** Every word of an entity's own, for a sheet that lists it; each field by the first that it is found by. */
const OWN: readonly Index[] = [
  indexOf(labelsOf),
  indexOf((field) => [field.header, ...(field.synonyms ?? [])]),
  indexOf((field) => [nameOf(field)]),
];
const SYNONYMS = indexOf((field) => (isAlone(field) ? (field.synonyms ?? []) : []));
/** Of a sheet that lists something else, or nothing that is known: only what no other field is called. */
const SOLE = indexOf((field) => (isAlone(field) ? [...labelsOf(field), ...(field.synonyms ?? []), nameOf(field)] : []));
/** What no other field at all is called: read alone wherever something of its entity stands beside it. */
const UNIQUE = indexOf((field) => [...labelsOf(field), field.header, ...(field.synonyms ?? []), nameOf(field)]);
/** Spelling of a heading that means the name of what the sheet lists. */
const NAME = new Set(['name', 'names', 'title']);
const KEY_OF: Record<ImportEntity, string> = {
  'component-type': 'component-type.name',
  customer: 'customer.name',
  site: 'site.name',
  machine: 'machine.name',
  station: 'station.name',
  'power-unit': 'power-unit.name',
  circuit: 'circuit.name',
  'installed-component': 'installed-component.designation',
  'm-code': 'm-code.code',
  signal: 'signal.name',
  wire: 'wire.number',
  fixture: 'fixture.name',
  'fixture-element': 'fixture-element.name',
  operation: 'operation.name',
  'fixture-fitting': 'fixture.name',
  'target-setting': 'circuit.name',
  'setup-record': 'circuit.name',
};

/** What people call a sheet of them, beside the name of the entity. */
const TITLES = [...IMPORT_ENTITIES.map((entity) => [normalise(entity), entity] as const)].concat([
  ['component', 'installed-component'],
  ['as left setting', 'setup-record'],
]);

/** What a sheet called so lists, if its name says it. */
function entityOfTitle(title: string): ImportEntity | null {
  const words = ` ${normalise(title)} `;
  const named = TITLES.filter(([name]) => words.includes(` ${name} `) || words.includes(` ${name}s `));
  return named.sort(([a], [b]) => b.length - a.length)[0]?.[1] ?? null;
}

/** What the rows of an entity hang on, and how the columns are headed that say so. */
const PARENTS: ReadonlyMap<ImportEntity, ReadonlyMap<string, ImportEntity>> = new Map(
  IMPORT_ENTITIES.map((entity) => {
    const others = columnsOfEntity(entity).filter((field) => field.entity !== entity);
    return [entity, new Map(others.map((field) => [normalise(field.header), field.entity]))];
  }),
);
/** So many headings of something else make a sheet one of several things. */
const OF_ANOTHER = 2;

/**
 * What the headings are mostly of; null where they are as much of two, or of several things that stand in one row. What was released is
 * called like what was measured: it says so.
 */
function entityOfNames(names: readonly string[]): ImportEntity | null {
  const counts = IMPORT_ENTITIES.filter((entity) => entity !== 'target-setting').map((entity) => {
    const parents = PARENTS.get(entity) ?? new Map<string, ImportEntity>();
    const known = names.filter((name) => !parents.has(name) && ownOf(name, entity).length > 0);
    return { entity, parents, known, count: known.length + names.filter((name) => parents.has(name)).length };
  });
  const [most, next] = counts
    .filter(({ known }) => known.length > 0)
    .sort((a, b) => b.count - a.count || b.known.length - a.known.length);
  if (most === undefined || (most.count === next?.count && most.known.length === next.known.length)) return null;
  const isOfAnother = counts.some(
    ({ entity, known }) =>
      ![...most.parents.values(), most.entity].includes(entity) &&
      known.filter((name) => !most.known.includes(name) && !most.parents.has(name)).length >= OF_ANOTHER,
  );
  return isOfAnother ? null : most.entity;
}

/** Suggests a field for each heading, each field once; null where nothing fits. */
export function suggestFields(headings: readonly string[], title: string): (string | null)[] {
  const names = headings.map((heading) => {
    const { name } = splitHeading(heading);
    return name.length > LONGEST_NAME ? '' : normalise(name);
  });
  const entity = entityOfTitle(title) ?? entityOfNames(names);
  const used = new Set<string>();
  const take = (fields: readonly ImportField[]): string | null => {
    const free = fields.filter((field) => !used.has(field.key));
    const field = free.find((one) => one.entity === entity) ?? free[0];
    if (field === undefined) return null;
    used.add(field.key);
    return field.key;
  };
  const found = names.map((name) => {
    const exact = BY_HEADER.get(name);
    const isOther = entity !== null && exact?.entity !== entity && ownOf(name, entity).length > 0;
    return exact === undefined || isOther ? null : take([exact]);
  });
  const present = new Set(found.map((key) => (key === null ? undefined : importField(key)?.entity)));
  return found.map((key, index) => {
    const name = names[index] ?? '';
    if (key !== null || name === '') return key;
    if (NAME.has(name) && entity !== null && !used.has(KEY_OF[entity])) {
      used.add(KEY_OF[entity]);
      return KEY_OF[entity];
    }
    const ofSheet = entity === null ? [] : ownOf(name, entity);
    const sole = SOLE.get(name) ?? [];
    const [unique, ...others] = UNIQUE.get(name) ?? [];
    const ofPresent = unique !== undefined && others.length === 0 && present.has(unique.entity) ? [unique] : [];
    return take([...ofSheet, ...(SYNONYMS.get(name) ?? []), ...(sole.length === 1 ? sole : []), ...ofPresent]);
  });
}

/** Fields of an entity that are called so. */
const ownOf = (name: string, entity: ImportEntity): ImportField[] =>
  OWN.flatMap((index) => (index.get(name) ?? []).filter((field) => field.entity === entity));

export const textOf = (cell: Cell | undefined): string => {
  if (cell === undefined || cell === null) return '';
  if (typeof cell !== 'object') return String(cell);
  if (cell.t === 'number') return `${cell.v} ${cell.unit}`;
  return cell.t === 'formula' ? textOf(cell.v) : cell.v;
};

const LOOK_AT_ROWS = 25;

/** The number of the row that holds the headings: the one with the most known headings, else the first that is all text. */
export function findHeaderRow(sheet: Sheet): number {
  let best = { n: 0, score: 0 };
  for (const row of sheet.rows.slice(0, LOOK_AT_ROWS)) {
    const texts = row.cells.map(textOf).filter((text) => text.trim() !== '');
    if (texts.length === 0) continue;
    const isText = row.cells.every((cell) => cell === null || (typeof cell === 'string' && !/^[\d.,\s]+$/.test(cell)));
    const known = suggestFields(texts, sheet.name).filter((key) => key !== null).length;
    const score = known * 100 + (isText ? Math.min(texts.length, 50) : 0);
    if (score > best.score) best = { n: row.n, score };
  }
  return best.n;
}

/** Heads the last column of the list of refused rows. */
export const WHY_REFUSED = 'Why refused';

/**
 * The same headings have the same fingerprint, whatever the file and its sheets are called. A list of refused rows that comes back mended
 * is known by the headings of the file that they are from.
 */
export const fingerprintOf = (headings: readonly (readonly string[])[]): string =>
  createHash('sha256')
    .update(
      JSON.stringify(
        headings.map((sheet) =>
          sheet.filter((heading) => heading !== WHY_REFUSED).map((heading) => heading.trim().toLowerCase()),
        ),
      ),
    )
    .digest('hex');
