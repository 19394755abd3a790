import { createHash } from 'node:crypto';
import { fieldsOfEntity, IMPORT_ENTITIES, IMPORT_FIELDS, type ImportEntity, type ImportField } from '@repo/contracts';
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

/** Their headings name them, for their fields are called like those of others. */
const SAYS_SO: ReadonlySet<ImportEntity> = new Set([
  'component-type',
  'fixture-element',
  'operation',
  'target-setting',
]);
const nameOf = (field: ImportField): string => field.name.replaceAll(/([A-Z])/g, ' $1');

function fieldIndex(): Map<string, ImportField[]> {
  const index = new Map<string, ImportField[]>();
  const add = (name: string, field: ImportField): void => {
    const key = normalise(name);
    const fields = index.get(key) ?? [];
    if (!fields.includes(field)) fields.push(field);
    index.set(key, fields);
  };
  for (const field of IMPORT_FIELDS) add(field.header, field);
  for (const field of IMPORT_FIELDS) for (const synonym of field.synonyms ?? []) add(synonym, field);
  for (const field of IMPORT_FIELDS.filter(({ entity }) => !SAYS_SO.has(entity))) add(nameOf(field), field);
  return index;
}
const INDEX = fieldIndex();
/** By the headings of templates and exports, which go first. */
const BY_HEADER = new Map([...IMPORT_FIELDS].reverse().map((field) => [normalise(field.header), field]));
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

/** What a sheet called so lists, if its name says it. */
function entityOfTitle(title: string): ImportEntity | null {
  const words = ` ${normalise(title)} `;
  const named = IMPORT_ENTITIES.filter((entity) => words.includes(` ${normalise(entity)}`));
  return named.sort((a, b) => b.length - a.length)[0] ?? null;
}

/** Suggests a field for each heading, each field once; null where nothing fits. */
export function suggestFields(headings: readonly string[], title: string): (string | null)[] {
  const entity = entityOfTitle(title);
  const used = new Set<string>();
  const take = (fields: readonly ImportField[]): string | null => {
    const free = fields.filter((field) => !used.has(field.key));
    const field = free.find((one) => one.entity === entity) ?? free[0];
    if (field === undefined) return null;
    used.add(field.key);
    return field.key;
  };
  const names = headings.map((heading) => {
    const { name } = splitHeading(heading);
    return name.length > LONGEST_NAME ? '' : normalise(name);
  });
  const found = names.map((name) => {
    const exact = BY_HEADER.get(name);
    return exact === undefined ? null : take([exact]);
  });
  return found.map((key, index) => {
    const name = names[index] ?? '';
    if (key !== null || name === '') return key;
    if (NAME.has(name) && entity !== null && !used.has(KEY_OF[entity])) {
      used.add(KEY_OF[entity]);
      return KEY_OF[entity];
    }
    // A sheet that says what it lists calls their fields by their names alone.
    const named = entity !== null && SAYS_SO.has(entity) ? fieldsOfEntity(entity) : [];
    return take([...named.filter((field) => normalise(nameOf(field)) === name), ...(INDEX.get(name) ?? [])]);
  });
}

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
