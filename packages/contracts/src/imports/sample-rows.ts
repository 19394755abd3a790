import { fromSi, getKindInfo } from '@repo/quantity';
import { figureOf } from '../components/component-kinds.js';
import { COMPONENT_FIGURE_COLUMNS } from './component-type-fields.js';
import type { ImportField } from './import-field-model.js';

/** Marks every sample as made up: nothing of it is a firm, a person or a component that there is. */
const INVENTED = 'Invented';

/**
 * What cannot follow from a column alone: names by which one sheet finds what stands in another, and figures that must lie beside each
 * other. All invented.
 */
const SAID: Readonly<Record<string, readonly [string, string]>> = {
  'component-type.name': ['Hose I-6', 'Hose I-8'],
  'component-type.kind': ['hose', 'hose'],
  'component-type.ratedPressure': ['275 bar', '250 bar'],
  'component-type.burstPressure': ['1100 bar', '1000 bar'],
  'component-type.temperatureDerating': ['0.9', '0.8'],
  'component-type.bendDerating': ['1', '0.9'],
  'component-type.ageDerating': ['1', '0.9'],
  'installed-component.componentType': ['Hose I-6', 'Hose I-8'],
  'customer.contactEmail': ['a@invented.example', 'b@invented.example'],
  'site.timeZone': ['Europe/Lisbon', 'Europe/Lisbon'],
  'site.latitude': ['41.5', '41.6'],
  'site.longitude': ['-8.4', '-8.5'],
  'machine.form': ['pallets', 'pallets'],
  'machine.stations': ['Pallet I-C; Pallet I-D', 'Pallet I-C; Pallet I-D'],
  'machine.madeYear': ['2019', '2021'],
  'station.name': ['Pallet I-A', 'Pallet I-B'],
  'm-code.code': ['M21', 'M22'],
  'signal.component': ['H1.1', 'H1.2'],
  'installed-component.designation': ['H1.1', 'H1.2'],
  'installed-component.ownFigures': ['length = 2 m [measured, invented]', 'length = 3 m [measured, invented]'],
  'power-unit.plantAirLow': ['5 bar', '5 bar'],
  'power-unit.plantAirHigh': ['6.5 bar', '6.5 bar'],
  'operation.number': ['10', '20'],
  'operation.requiredBasis': ['typed', 'typed'],
  'operation.materialGroup': ['42crmo4', 's235'],
  'operation.points': ['10 mm, 20 mm, 0 mm; 30 mm, 20 mm, 0 mm', '30 mm, 20 mm, 0 mm'],
  'operation.toolAxis': ['0, 0, -1', '0, 0, -1'],
  'operation.centreOfMass': ['10 mm, 20 mm, 30 mm', '10 mm, 20 mm, 40 mm'],
  'operation.gravity': ['0, 0, -1', '0, 0, -1'],
  'operation.otherGravities': ['0, 1, 0; 1, 0, 0', '0, 1, 0'],
  'operation.workpieceNotLimiting': ['no', 'no'],
  'fixture-element.places': ['10 mm, 20 mm, 0 mm toward 0, 0, -1', '30 mm, 20 mm, 0 mm toward 0, 0, -1'],
  'target-setting.setPoint': ['150 bar', '150 bar'],
  'target-setting.resetPoint': ['142 bar', '142 bar'],
  'setup-record.setPoint': ['150 bar', '150 bar'],
  'setup-record.resetPoint': ['142 bar', '142 bar'],
  'setup-record.gaugeCalibrationDueOn': ['2027-01-05', '2027-01-06'],
  'setup-record.gaugeSpan': ['250 bar', '250 bar'],
};

/** In the unit in which its kind is shown first: a whole number of them, within what the field allows. */
function quantityFor({ kind = 'ratio', within }: ImportField, row: number): string {
  const [shown] = getKindInfo(kind).displayUnits;
  if (shown === undefined) return String(row + 1);
  const { unit, symbol } = shown;
  if (within === undefined)
    return `${kind === 'pressure' ? 175 + row : kind === 'temperature' ? 20 + row : row + 1} ${symbol}`;
  const [least, most] = within.map((end) => fromSi(end, unit, kind)) as [number, number];
  const middle = Number(((least + most) / 2).toPrecision(2));
  return `${Number((middle + row * 10 ** (Math.floor(Math.log10(middle)) - 1)).toPrecision(4))} ${symbol}`;
}

/** Of a type's figures those that its kind has. */
const OF_OTHER_KINDS: ReadonlySet<string> = new Set(
  COMPONENT_FIGURE_COLUMNS.filter(({ figure }) => figureOf('hose', figure) === undefined).flatMap(
    ({ value, source }) => [value.key, source.key],
  ),
);

function toSample(field: ImportField, row: number): string {
  if (OF_OTHER_KINDS.has(field.key)) return '';
  const given = SAID[field.key]?.[row];
  if (given !== undefined) return given;
  const { type, choices, header, min = 0, max } = field;
  switch (type) {
    case 'text':
    case 'component-type':
      return `${INVENTED}: ${header.toLowerCase()} ${row + 1}`.slice(0, max ?? 400);
    case 'list':
    case 'choice':
      return choices?.[row % choices.length] ?? '';
    case 'boolean':
      return row === 0 ? 'yes' : 'no';
    case 'integer':
      return String(Math.min(min + row + 1, max ?? Number.MAX_SAFE_INTEGER));
    case 'number':
      return String(
        max !== undefined && max <= 2 ? Number((min + (max - min) / (row + 4)).toPrecision(2)) : min + row + 1,
      );
    case 'date':
      return `2026-01-0${row + 5}`;
    case 'instant':
      return `2026-01-0${row + 5}T08:00:00Z`;
    case 'quantity':
      return quantityFor(field, row);
  }
}

/** How many rows the help of an entity shows. */
export const SAMPLE_ROWS = [0, 1] as const;

/** A row of a table, made from its columns: what a cell may hold, nothing that there is. */
export const toSampleRow = (columns: readonly ImportField[], row: (typeof SAMPLE_ROWS)[number]): string[] =>
  columns.map((field) => toSample(field, row));
