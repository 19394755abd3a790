import { toSiOf, type ExportFormat, type WireQuantity } from '@repo/contracts';
import { fromSi, getKindInfo, toUnitSymbol, type QuantityKind } from '@repo/quantity';
import { wallClockMs } from '../../platform/clock/wall-clock.js';
import type { OutCell, StreamColumn } from '../../platform/sheets/index.js';
import { UTC, type ExportColumn, type ExportedTable } from './export-columns.js';

export interface CellStyle {
  format: ExportFormat;
  pressureUnit: string;
}

/** What a row of SQL gives: cells as `c0`, `c1` …, what was typed as `e0` …, the time zone as `zone`. */
export type ExportRow = Readonly<Record<string, unknown>>;

/** Digits of a converted figure: fewer than a double has, so that 152 bar does not become 151.99999999999997. */
const DIGITS = 12;

/** The unit that a column of this kind is written in. */
export function toUnit(kind: QuantityKind, { pressureUnit }: CellStyle): string {
  if (kind === 'pressure') return pressureUnit;
  const [first] = getKindInfo(kind).displayUnits;
  if (first === undefined) throw new Error(`no unit is shown for ${kind}`);
  return first.unit;
}

/** Headings with their units; in a workbook also how cells are shown, and the zone of times that are not local. */
export function toHeadings({ columns, timeZone }: ExportedTable, style: CellStyle): StreamColumn[] {
  const isWorkbook = style.format === 'xlsx';
  return columns.map(({ header, type, kind }): StreamColumn => {
    switch (type) {
      case 'quantity':
        return { header: `${header} [${toUnitSymbol(toUnit(kind as QuantityKind, style))}]` };
      case 'instant': {
        const isUtc = isWorkbook && (timeZone === undefined || timeZone === UTC);
        return { header: isUtc ? `${header} [UTC]` : header, numFmt: 'yyyy-mm-dd hh:mm:ss' };
      }
      case 'date':
        return { header, numFmt: 'yyyy-mm-dd' };
      default:
        return { header };
    }
  });
}

function toNumber(si: number, entered: unknown, kind: QuantityKind, unit: string): number {
  const typed = entered as { value?: unknown; unit?: unknown } | null | undefined;
  if (typed?.unit === unit && typeof typed.value === 'number') return typed.value;
  return Number(fromSi(si, unit, kind).toPrecision(DIGITS));
}

const HOUR_MS = 3_600_000;

/**
 * An instant for a workbook: a real date, as the clock of its site shows it. Where that would not read back as the same
 * instant (fractions of a second; the hour that a clock shows twice) it stays a text with its zone.
 */
function toWorkbookInstant(at: Date, zone: unknown): OutCell {
  if (typeof zone !== 'string') return at;
  const wallMs = wallClockMs(at.getTime(), zone);
  const isTwice = [-HOUR_MS, HOUR_MS].some((away) => wallClockMs(at.getTime() + away, zone) === wallMs);
  return at.getUTCMilliseconds() !== 0 || isTwice ? at.toISOString() : new Date(wallMs);
}

function toCell(column: ExportColumn, index: number, row: ExportRow, style: CellStyle): OutCell {
  const value = row[`c${index}`];
  if (value === null || value === undefined) return null;
  switch (column.type) {
    case 'quantity': {
      const kind = column.kind as QuantityKind;
      const [si, entered] =
        typeof value === 'object' ? [toSiOf(value as WireQuantity, kind), value] : [Number(value), row[`e${index}`]];
      return toNumber(si, entered, kind, toUnit(kind, style));
    }
    case 'integer':
    case 'number':
      return Number(value);
    case 'boolean':
      return value === true;
    case 'instant': {
      const at = value as Date;
      return style.format === 'csv' ? at.toISOString() : toWorkbookInstant(at, row.zone);
    }
    case 'date':
      return style.format === 'csv' ? String(value) : new Date(`${String(value)}T00:00:00Z`);
    case 'list':
      return (value as string[]).join('; ');
    case 'json':
      return JSON.stringify(value);
    case 'text':
      return String(value);
  }
}

export function toCells({ columns }: ExportedTable, row: ExportRow, style: CellStyle): OutCell[] {
  return columns.map((column, index) => toCell(column, index, row, style));
}
