import {
  fieldsOfEntity,
  importField,
  IMPORT_ENTITIES,
  type Import,
  type ImportEntity,
  type ImportField,
  type ImportRemark,
  type ImportMapping,
  type ImportReading,
} from '@repo/contracts';
import { columnLetter, type Cell, type Row, type SheetFile } from '../../platform/sheets/index.js';
import { behindNumber, readBothWays } from './column-style.js';
import { recordRows } from './describe-file.js';
import { FillDown, type CellContent } from './fill-down.js';
import { splitHeading, unitOf } from './headings.js';
import { hangsOn, IDENTITY } from './identity.js';
import { fold, isSame, remark, type Given, type PlannedRow, type Rec } from './plan-model.js';
import { readValue, type ColumnStyle } from './read-value.js';

export interface Column {
  column: number;
  letter: string;
  field: ImportField;
  style: ColumnStyle;
  /** an empty cell says what the one above says */
  fillDown: boolean;
}

/** One row of the file, its cells read for the fields that they are mapped to. */
export interface ReadRow {
  sheet: string;
  row: number;
  remarks: ImportRemark[];
  given: Map<ImportEntity, Map<string, Given>>;
  /** keys of the fields whose cells cannot be read */
  unread: Set<string>;
  /** cells that took over what stands above them */
  filled: string[];
}

const isDateType = (field: ImportField): boolean => field.type === 'date' || field.type === 'instant';
const isNumberType = (field: ImportField): boolean =>
  field.type === 'number' || field.type === 'integer' || field.type === 'quantity';

type Question = Import['questions'][number];

function columnsOf(reading: ImportReading, mapping: ImportMapping, sheet: number): Column[] {
  const described = reading.sheets[sheet];
  const mapped = mapping.sheets.find((one) => one.sheet === sheet);
  if (described === undefined || mapped === undefined) return [];
  return mapped.columns.flatMap(({ column, field: key, unit, decimal, dateOrder, fillDown }) => {
    const field = key === null ? undefined : importField(key);
    const about = described.columns[column];
    if (field === undefined || about === undefined || (about.hidden && !mapping.hiddenColumns)) return [];
    const headingUnit = splitHeading(about.header).unit;
    const headed = headingUnit === null || field.kind === undefined ? null : unitOf(headingUnit, field.kind);
    const numberStyle = about.numbers === 'comma' ? 'comma' : about.numbers === 'point' ? 'point' : null;
    const order = about.dates === 'day-month' || about.dates === 'month-day' ? about.dates : null;
    return [
      {
        column,
        letter: columnLetter(column),
        field,
        fillDown,
        style: {
          unit: unit ?? headed,
          decimal: isNumberType(field) ? (decimal ?? numberStyle) : null,
          either: mapping.decimal,
          dateOrder: isDateType(field) ? (dateOrder ?? order) : null,
        },
      },
    ];
  });
}

/** Every question that must be answered before the columns can be read: nothing that reads two ways is guessed. */
export function openQuestions(reading: ImportReading, mapping: ImportMapping): Import['questions'] {
  const questions: Question[] = [];
  let sign: Question | null = null;
  for (const sheet of mapping.sheets.filter((one) => one.use)) {
    for (const { column, field: key, decimal, dateOrder } of sheet.columns) {
      const field = key === null ? undefined : importField(key);
      const about = reading.sheets[sheet.sheet]?.columns[column];
      if (field === undefined || about === undefined || (about.hidden && !mapping.hiddenColumns)) continue;
      const at = { sheet: sheet.sheet, column, letter: about.letter, header: about.header, examples: about.examples };
      if (isDateType(field) && about.dates === 'ambiguous' && dateOrder === null) {
        questions.push({ kind: 'date-order', ...at, readings: null });
      }
      const isOpen = (about.numbers === 'ambiguous' || about.numbers === 'mixed') && decimal === null;
      if (isOpen && isNumberType(field)) sign = withExamples(sign, at, field);
    }
    for (const { field: key, value } of sheet.constants) {
      const field = importField(key);
      if (field === undefined || !isNumberType(field)) continue;
      const at = { sheet: sheet.sheet, column: 0, letter: '', header: field.header, examples: [value] };
      sign = withExamples(sign, at, field);
    }
  }
  return sign === null || mapping.decimal !== null ? questions : [sign, ...questions];
}

const ASKED_WITH = 5;

/** The one question about the decimal sign of a file, with what another column adds to it. */
function withExamples(
  asked: Question | null,
  at: Omit<Question, 'kind' | 'readings'>,
  field: ImportField,
): Question | null {
  const examples = at.examples.filter((text) => readBothWays(text, field) !== null);
  const [first] = examples;
  if (first === undefined) return asked;
  if (asked !== null) {
    return { ...asked, examples: [...new Set([...asked.examples, ...examples])].slice(0, ASKED_WITH) };
  }
  const both = readBothWays(first, field);
  const unit = behindNumber(first);
  const say = (value: number | undefined): string => `${value ?? ''} ${unit}`.trim();
  return {
    kind: 'decimal-sign',
    ...at,
    examples: examples.slice(0, ASKED_WITH),
    readings: { point: say(both?.point), comma: say(both?.comma) },
  };
}

/** Rows between two breaths: other work of this process goes on while a large file is read. */
const BREATHE_EVERY = 250;
export const breathe = (): Promise<void> => new Promise((resolve) => setImmediate(resolve));

/** Reads the cells of every row that is used. */
export async function readRows(file: SheetFile, reading: ImportReading, mapping: ImportMapping): Promise<ReadRow[]> {
  const read: ReadRow[] = [];
  for (const mapped of mapping.sheets.filter((one) => one.use)) {
    const sheet = file.sheets[mapped.sheet];
    if (sheet === undefined) continue;
    const columns = columnsOf(reading, mapping, mapped.sheet);
    const constants = mapped.constants.flatMap(({ field: key, value }) => {
      const field = importField(key);
      return field === undefined ? [] : [{ field, value }];
    });
    const fill = new FillDown(columns);
    for (const row of recordRows(sheet, mapped.headerRow, mapping.keepTotals)) {
      const cells = fill.through(row);
      if (row.hidden === true && !mapping.hiddenRows) continue;
      read.push(readRow(sheet.name, { row, cells }, columns, constants, mapping.decimal));
      if (read.length % BREATHE_EVERY === 0) await breathe();
    }
  }
  return read;
}

const NO_STYLE: ColumnStyle = { unit: null, decimal: null, either: null, dateOrder: null };

interface FilledRow {
  row: Row;
  /** by the number of the column */
  cells: ReadonlyMap<number, CellContent>;
}

function readRow(
  sheet: string,
  { row, cells }: FilledRow,
  columns: readonly Column[],
  constants: readonly { field: ImportField; value: string }[],
  either: ColumnStyle['either'],
): ReadRow {
  const read: ReadRow = { sheet, row: row.n, remarks: [], given: new Map(), unread: new Set(), filled: [] };
  const take = (field: ImportField, content: Cell, style: ColumnStyle, cell: string | null): void => {
    const result = readValue(content, field, style);
    if (!result.ok) {
      read.unread.add(field.key);
      read.remarks.push(remark(result.code, result.params, { cell, field: field.key }));
    } else if (result.value !== null && result.value !== '') {
      const values = read.given.get(field.entity) ?? new Map<string, Given>();
      values.set(field.name, { value: result.value, cell });
      read.given.set(field.entity, values);
    }
  };
  for (const { field, value } of constants) take(field, value, { ...NO_STYLE, either }, null);
  for (const { column, letter, field, style } of columns) {
    const { content, isFilled } = cells.get(column) ?? { content: null, isFilled: false };
    if (isFilled) read.filled.push(`${letter}${row.n}`);
    take(field, content, style, `${letter}${row.n}`);
  }
  return read;
}

/** Gathers what all rows say of each record. */
export class RecordCollector {
  readonly recs = new Map<ImportEntity, Map<string, Rec>>(IMPORT_ENTITIES.map((entity) => [entity, new Map()]));
  readonly rows: PlannedRow[] = [];
  /** keys of the fields that cannot be read in the row that is added */
  private unread: ReadonlySet<string> = new Set();
  /** whether the row that is added ends with an element of a fixture: each such row is an element, also of a name that was there */
  private listsElement = false;
  /** how often an element was listed, by its fixture and name */
  private readonly listed = new Map<string, number>();

  add(read: ReadRow): void {
    const position = this.rows.length;
    const row: PlannedRow = {
      sheet: read.sheet,
      row: read.row,
      remarks: [...read.remarks],
      filled: read.filled,
      recs: [],
    };
    this.rows.push(row);
    this.unread = read.unread;
    const here: Partial<Record<ImportEntity, Rec>> = {};
    const lists = IMPORT_ENTITIES.findLast((entity) => read.given.has(entity));
    this.listsElement = lists === 'fixture-element';
    for (const entity of IMPORT_ENTITIES) {
      const given = read.given.get(entity);
      if (given === undefined) continue;
      const rec = this.take(entity, given, here, row, position);
      if (rec !== null) here[entity] = rec;
      if (entity === 'machine' && rec !== null) this.takeStations(rec, given, row, position);
    }
    if (row.recs.length === 0 && row.remarks.length === 0) row.remarks.push(remark('nothing-mapped'));
  }

  private take(
    entity: ImportEntity,
    given: ReadonlyMap<string, Given>,
    here: Partial<Record<ImportEntity, Rec>>,
    row: PlannedRow,
    position: number,
  ): Rec | null {
    const { within, by } = IDENTITY[entity];
    const named = by === null ? undefined : given.get(by);
    const at = { cell: [...given.values()][0]?.cell ?? null, field: by === null ? null : `${entity}.${by}` };
    if (by !== null && named === undefined) {
      // A name that cannot be read has its own remark.
      if (this.unread.has(`${entity}.${by}`)) return null;
      row.remarks.push(remark('key-missing', { field: importField(`${entity}.${by}`)?.header ?? by }, at));
      return null;
    }
    const parent = within === null ? undefined : here[within];
    if (within !== null && parent === undefined) {
      // Its own remark has been made where the parent's name is missing too.
      row.remarks.push(remark('parent-missing', { entity: within }, { cell: named?.cell ?? at.cell, field: null }));
      return null;
    }
    const name = named === undefined ? (parent?.label ?? '') : String(named.value);
    const extra =
      entity === 'fixture-fitting' ? (here.fixture?.key ?? '') : String(given.get('reportName')?.value ?? '');
    const likeKey = `${parent?.key ?? ''}|${named === undefined ? '' : fold(name)}|${by === 'measuredAt' || by === null ? fold(extra) : ''}`;
    const key = entity === 'fixture-element' && this.listsElement ? this.keyOfNext(likeKey) : likeKey;
    const known = this.recs.get(entity) as Map<string, Rec>;
    let rec = known.get(key);
    if (rec === undefined) {
      rec = {
        entity,
        key,
        label: by === null || by === 'measuredAt' ? (parent?.label ?? name) : name,
        parents: Object.fromEntries(Object.entries(here).filter(([other]) => hangsOn(entity, other as ImportEntity))),
        values: new Map(),
        rows: [],
        existing: null,
        outcome: 'unchanged',
        changes: [],
        refusals: [],
        told: [],
        unread: new Set(),
        isExchange: false,
        typeId: null,
        componentId: null,
        further: {},
        id: null,
      };
      known.set(key, rec);
    }
    if (this.unread.size > 0) {
      for (const field of fieldsOfEntity(entity)) if (this.unread.has(field.key)) rec.unread.add(field.name);
    }
    this.merge(rec, given, here, row);
    if (rec.rows.at(-1) !== position) rec.rows.push(position);
    if (!row.recs.includes(rec)) row.recs.push(rec);
    return rec;
  }

  private keyOfNext(likeKey: string): string {
    const nth = (this.listed.get(likeKey) ?? 0) + 1;
    this.listed.set(likeKey, nth);
    return nth === 1 ? likeKey : `${likeKey}#${nth}`;
  }

  private merge(
    rec: Rec,
    given: ReadonlyMap<string, Given>,
    here: Partial<Record<ImportEntity, Rec>>,
    row: PlannedRow,
  ): void {
    for (const [name, text] of given) {
      const before = rec.values.get(name);
      if (before === undefined) rec.values.set(name, text);
      else if (name !== IDENTITY[rec.entity].by && name !== 'stations' && !isSame(before.value, text.value)) {
        row.remarks.push(
          remark(
            'contradicts',
            { other: before.cell ?? '', name: rec.label },
            { cell: text.cell, field: `${rec.entity}.${name}` },
          ),
        );
      }
    }
    for (const entity of ['station', 'power-unit', 'circuit', 'm-code', 'fixture'] as const) {
      const parent = here[entity];
      if (parent === undefined || !hangsOn(rec.entity, entity)) continue;
      if (rec.parents[entity] === undefined) rec.parents[entity] = parent;
      else if (rec.entity === 'circuit' && rec.parents[entity] !== parent) {
        row.remarks.push(remark('contradicts', { other: rec.parents[entity].label, name: rec.label }));
      }
    }
  }

  /** `A; B` in the column of stations is two records. */
  private takeStations(machine: Rec, given: ReadonlyMap<string, Given>, row: PlannedRow, position: number): void {
    const stations = given.get('stations');
    if (stations === undefined || !Array.isArray(stations.value)) return;
    for (const name of stations.value as string[]) {
      this.take(
        'station',
        new Map([['name', { value: name, cell: stations.cell }]]),
        { ...machine.parents, machine },
        row,
        position,
      );
    }
  }
}
