import {
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
import { recordRows } from './describe-file.js';
import { splitHeading, unitOf } from './headings.js';
import { fold, isSame, remark, type Given, type PlannedRow, type Rec } from './plan-model.js';
import { readValue, type ColumnStyle } from './read-value.js';

interface Column {
  column: number;
  letter: string;
  field: ImportField;
  style: ColumnStyle;
}

/** One row of the file, its cells read for the fields that they are mapped to. */
export interface ReadRow {
  sheet: string;
  row: number;
  remarks: ImportRemark[];
  given: Map<ImportEntity, Map<string, Given>>;
}

const isDateType = (field: ImportField): boolean => field.type === 'date' || field.type === 'instant';
const isNumberType = (field: ImportField): boolean =>
  field.type === 'number' || field.type === 'integer' || field.type === 'quantity';

function columnsOf(reading: ImportReading, mapping: ImportMapping, sheet: number): Column[] {
  const described = reading.sheets[sheet];
  const mapped = mapping.sheets.find((one) => one.sheet === sheet);
  if (described === undefined || mapped === undefined) return [];
  return mapped.columns.flatMap(({ column, field: key, unit, decimal, dateOrder }) => {
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
        style: {
          unit: unit ?? headed,
          decimal: isNumberType(field) ? (decimal ?? numberStyle) : null,
          dateOrder: isDateType(field) ? (dateOrder ?? order) : null,
        },
      },
    ];
  });
}

/** Every question that must be answered before the columns can be read: nothing that reads two ways is guessed. */
export function openQuestions(reading: ImportReading, mapping: ImportMapping): Import['questions'] {
  return mapping.sheets
    .filter((sheet) => sheet.use)
    .flatMap((sheet) =>
      sheet.columns.flatMap(({ column, field: key, decimal, dateOrder }): Import['questions'] => {
        const field = key === null ? undefined : importField(key);
        const about = reading.sheets[sheet.sheet]?.columns[column];
        if (field === undefined || about === undefined || (about.hidden && !mapping.hiddenColumns)) return [];
        const at = { sheet: sheet.sheet, column, letter: about.letter, header: about.header, examples: about.examples };
        if (isDateType(field) && about.dates === 'ambiguous' && dateOrder === null) {
          return [{ kind: 'date-order', ...at }];
        }
        if (isNumberType(field) && about.numbers === 'ambiguous' && decimal === null) {
          return [{ kind: 'decimal-sign', ...at }];
        }
        return [];
      }),
    );
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
    for (const row of recordRows(sheet, mapped.headerRow)) {
      if (row.hidden === true && !mapping.hiddenRows) continue;
      read.push(readRow(sheet.name, row, columns, constants));
      if (read.length % BREATHE_EVERY === 0) await breathe();
    }
  }
  return read;
}

const NO_STYLE: ColumnStyle = { unit: null, decimal: 'point', dateOrder: null };

function readRow(
  sheet: string,
  row: Row,
  columns: readonly Column[],
  constants: readonly { field: ImportField; value: string }[],
): ReadRow {
  const read: ReadRow = { sheet, row: row.n, remarks: [], given: new Map() };
  const take = (field: ImportField, content: Cell, style: ColumnStyle, cell: string | null): void => {
    const result = readValue(content, field, style);
    if (!result.ok) {
      read.remarks.push(remark(result.code, result.params, { cell, field: field.key }));
    } else if (result.value !== null && result.value !== '') {
      const values = read.given.get(field.entity) ?? new Map<string, Given>();
      values.set(field.name, { value: result.value, cell });
      read.given.set(field.entity, values);
    }
  };
  for (const { field, value } of constants) take(field, value, NO_STYLE, null);
  for (const { column, letter, field, style } of columns) {
    take(field, row.cells[column] ?? null, style, `${letter}${row.n}`);
  }
  return read;
}

/** How a record of each kind is told from its like: what it hangs on, and the field that names it there. */
const IDENTITY: Record<ImportEntity, { within: ImportEntity | null; by: string | null }> = {
  customer: { within: null, by: 'name' },
  site: { within: 'customer', by: 'name' },
  machine: { within: 'site', by: 'name' },
  station: { within: 'machine', by: 'name' },
  'power-unit': { within: 'machine', by: 'name' },
  circuit: { within: 'machine', by: 'name' },
  'installed-component': { within: 'machine', by: 'designation' },
  fixture: { within: 'customer', by: 'name' },
  'fixture-fitting': { within: 'station', by: null },
  'target-setting': { within: 'circuit', by: null },
  'setup-record': { within: 'circuit', by: 'measuredAt' },
};

/** Gathers what all rows say of each record. */
export class RecordCollector {
  readonly recs = new Map<ImportEntity, Map<string, Rec>>(IMPORT_ENTITIES.map((entity) => [entity, new Map()]));
  readonly rows: PlannedRow[] = [];

  add(read: ReadRow): void {
    const position = this.rows.length;
    const row: PlannedRow = { sheet: read.sheet, row: read.row, remarks: [...read.remarks], recs: [] };
    this.rows.push(row);
    if (row.remarks.length > 0) return;
    const here: Partial<Record<ImportEntity, Rec>> = {};
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
    const key = `${parent?.key ?? ''}|${named === undefined ? '' : fold(name)}|${by === 'measuredAt' || by === null ? fold(extra) : ''}`;
    const known = this.recs.get(entity) as Map<string, Rec>;
    let rec = known.get(key);
    if (rec === undefined) {
      rec = {
        entity,
        key,
        label: by === null || by === 'measuredAt' ? (parent?.label ?? name) : name,
        parents: { ...here },
        values: new Map(),
        rows: [],
        existing: null,
        outcome: 'unchanged',
        changes: [],
        refusal: null,
        isExchange: false,
        typeId: null,
        id: null,
      };
      known.set(key, rec);
    }
    this.merge(rec, given, here, row);
    if (rec.rows.at(-1) !== position) rec.rows.push(position);
    if (!row.recs.includes(rec)) row.recs.push(rec);
    return rec;
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
      else if (name !== 'name' && name !== 'designation' && name !== 'stations' && !isSame(before.value, text.value)) {
        row.remarks.push(
          remark(
            'contradicts',
            { other: before.cell ?? '', name: rec.label },
            { cell: text.cell, field: `${rec.entity}.${name}` },
          ),
        );
      }
    }
    for (const entity of ['station', 'power-unit', 'circuit', 'fixture'] as const) {
      const parent = here[entity];
      if (parent === undefined || rec.entity === entity) continue;
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
