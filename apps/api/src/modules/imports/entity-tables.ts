import {
  CIRCUIT_FIGURES,
  FIXTURE_FIGURES,
  MACHINE_FIGURES,
  POWER_UNIT_FIGURES,
  factNameOf,
  type Figures,
} from '@repo/calc/figures';
import { IMPORT_ENTITIES, type ImportEntity } from '@repo/contracts';
import { CUT_COLUMN } from './cut-columns.js';
import { BEHAVIOUR_COLUMN, type DerivedColumn } from './derived-columns.js';
import { ELEMENTS_COLUMN } from './fixture-columns.js';
import { OWN_FIGURES_COLUMN } from './own-figures.js';
import { TYPE_FIGURES_COLUMN, TYPE_REVISION_COLUMN } from './type-columns.js';

export type ColumnType = 'text' | 'int4' | 'float8' | 'bool' | 'date' | 'timestamptz' | 'text[]' | 'jsonb' | 'uuid';

export interface FieldColumn {
  /** name of the field in the table of import fields */
  field: string;
  column: string;
  type: ColumnType;
  /** of a typed quantity: what was entered, beside its SI value */
  entered?: string;
  /** unit of a plain number that is a quantity (UCUM) */
  unit?: string;
  /** what stands where nothing was ever said; null unless given */
  fallback?: string | boolean | readonly string[];
}

export interface EntityTable {
  table: string;
  fields: readonly FieldColumn[];
  /** columns that say what the record hangs on, by the name of the link */
  links: Readonly<Record<string, string>>;
  /** columns that hold several fields, or follow from them */
  derived?: readonly DerivedColumn[];
  /** has a version, and `archived_at` or a period */
  life: 'archived' | 'period' | 'revisions';
}

const snake = (name: string): string => name.replaceAll(/[A-Z]/g, (letter) => `_${letter.toLowerCase()}`);
const text = (...names: string[]): FieldColumn[] =>
  names.map((field) => ({ field, column: snake(field), type: 'text' as const, fallback: '' }));
const plain = (type: ColumnType, ...names: string[]): FieldColumn[] =>
  names.map((field) => ({ field, column: snake(field), type }));
const quantity = (suffix: string, ...names: string[]): FieldColumn[] =>
  names.map((field) => ({
    field,
    column: `${snake(field)}_${suffix}`,
    type: 'float8' as const,
    entered: `${snake(field)}_entered`,
  }));

/** Of the figures that have a column in a spreadsheet. */
export const figuresOf = (figures: Figures): FieldColumn[] =>
  Object.entries(figures).flatMap(([field, figure]): FieldColumn[] => {
    if (figure.column === undefined) return [];
    const column = snake(factNameOf(field, figure));
    switch (figure.type) {
      case 'quantity':
        return [{ field, column, type: 'float8', entered: `${snake(field)}_entered` }];
      case 'answer':
        return [{ field, column, type: 'bool', ...(figure.isAlwaysSaid === true ? { fallback: false } : {}) }];
      case 'number': {
        const { unit } = figure.column;
        const type = figure.isWhole === true ? 'int4' : 'float8';
        return [{ field, column, type, ...(unit === undefined ? {} : { unit }) }];
      }
      case 'choice':
        return [{ field, column, type: 'text' }];
    }
  });

const SETTINGS = quantity(
  'pa',
  'setting',
  'settingTolerance',
  'setPoint',
  'resetPoint',
  'airPressure',
  'pumpRestart',
  'pumpRestartTolerance',
);

/** What has a table of its own: the elements of a fixture lie in its row. */
export type TableEntity = Exclude<ImportEntity, 'fixture-element'>;

/** Where each field of an import lies. */
export const TABLES: Readonly<Record<TableEntity, EntityTable>> = {
  'component-type': {
    table: 'component_types',
    fields: text('name', 'kind', 'partNumber', 'note'),
    derived: [TYPE_FIGURES_COLUMN, TYPE_REVISION_COLUMN],
    links: {},
    life: 'archived',
  },
  customer: {
    table: 'customers',
    fields: text('name', 'trade', 'contactName', 'contactEmail', 'contactPhone', 'note'),
    links: {},
    life: 'archived',
  },
  site: {
    table: 'sites',
    fields: [
      ...text('name', 'place', 'timeZone', 'address', 'country', 'note'),
      ...plain('float8', 'latitude', 'longitude'),
    ],
    links: { customer: 'customer_id' },
    life: 'archived',
  },
  machine: {
    table: 'machines',
    fields: [
      ...text('name', 'form', 'wayIn', 'description', 'model', 'serial', 'axes', 'trainedPersons', 'kitList'),
      ...text('asShipped', 'asReceived', 'quoteReference', 'emergencyStopBehaviour'),
      ...figuresOf(MACHINE_FIGURES),
      ...plain('date', 'inServiceOn', 'warrantyUntil'),
    ],
    derived: [BEHAVIOUR_COLUMN],
    links: { customer: 'customer_id', site: 'site_id' },
    life: 'archived',
  },
  station: {
    table: 'stations',
    fields: text('name'),
    links: { customer: 'customer_id', machine: 'machine_id' },
    life: 'archived',
  },
  'power-unit': {
    table: 'power_units',
    fields: [...text('name', 'drive', 'note'), ...figuresOf(POWER_UNIT_FIGURES)],
    links: { customer: 'customer_id', machine: 'machine_id' },
    life: 'archived',
  },
  circuit: {
    table: 'circuits',
    fields: [
      ...text('name', 'note'),
      { field: 'purpose', column: 'purpose', type: 'text', fallback: 'clamping' },
      ...figuresOf(CIRCUIT_FIGURES),
    ],
    links: { customer: 'customer_id', machine: 'machine_id', station: 'station_id', 'power-unit': 'power_unit_id' },
    life: 'archived',
  },
  'installed-component': {
    table: 'installed_components',
    fields: [
      ...text('designation', 'serial', 'lot', 'reason'),
      ...plain('text', 'sensing'),
      ...plain('bool', 'isBeyondShutOff'),
      { field: 'lineFunctions', column: 'line_functions', type: 'text[]', fallback: [] },
      ...plain('date', 'madeOn'),
      ...plain('timestamptz', 'validFrom'),
    ],
    derived: [OWN_FIGURES_COLUMN],
    links: {
      customer: 'customer_id',
      machine: 'machine_id',
      circuit: 'circuit_id',
      'power-unit': 'power_unit_id',
      type: 'component_type_id',
    },
    life: 'period',
  },
  'm-code': {
    table: 'm_codes',
    fields: [...text('code', 'action', 'note'), ...plain('bool', 'waitsForAnswer'), ...quantity('s', 'timeOut')],
    links: { customer: 'customer_id', machine: 'machine_id', station: 'station_id' },
    life: 'archived',
  },
  signal: {
    table: 'signals',
    fields: [
      ...text('name', 'direction', 'address', 'relay', 'contact', 'alarm', 'reaction', 'note'),
      { field: 'actsOn', column: 'acts_on', type: 'text', fallback: 'none' },
      ...plain('text', 'suppression'),
      ...plain('bool', 'isPolarityRight', 'isHeldOn'),
      { field: 'suppressionVoltageV', column: 'suppression_voltage_v', type: 'float8', unit: 'V' },
    ],
    links: {
      customer: 'customer_id',
      machine: 'machine_id',
      circuit: 'circuit_id',
      'm-code': 'm_code_id',
      'installed-component': 'component_id',
    },
    life: 'archived',
  },
  wire: {
    table: 'wires',
    fields: [
      ...text('number', 'fromTerminal', 'toTerminal', 'colour', 'note'),
      ...quantity('m2', 'crossSection'),
      ...quantity('m', 'length'),
      { field: 'insulationVoltageV', column: 'insulation_voltage_v', type: 'float8', unit: 'V' },
      { field: 'highestInCableV', column: 'highest_in_cable_v', type: 'float8', unit: 'V' },
      { field: 'protectionA', column: 'protection_a', type: 'float8', unit: 'A' },
      { field: 'conductorLimitA', column: 'conductor_limit_a', type: 'float8', unit: 'A' },
    ],
    links: { customer: 'customer_id', signal: 'signal_id' },
    life: 'archived',
  },
  fixture: {
    table: 'fixtures',
    fields: [...text('name', 'description', 'ratedPressureSource', 'note'), ...figuresOf(FIXTURE_FIGURES)],
    derived: [ELEMENTS_COLUMN],
    links: { customer: 'customer_id' },
    life: 'archived',
  },
  operation: {
    table: 'operations',
    fields: [
      ...text('name', 'tool', 'material', 'requiredSource', 'notLimitingReason', 'notLimitingBy'),
      ...plain('int4', 'number'),
      { field: 'requiredBasis', column: 'required_basis', type: 'text', fallback: 'typed' },
      { field: 'workpieceNotLimiting', column: 'workpiece_not_limiting', type: 'bool', fallback: false },
      ...quantity('pa', 'requiredPressure', 'workpieceLimit'),
      ...plain('timestamptz', 'validFrom'),
    ],
    derived: [CUT_COLUMN],
    links: { customer: 'customer_id', fixture: 'fixture_id' },
    life: 'period',
  },
  'fixture-fitting': {
    table: 'fixture_fittings',
    fields: [...plain('timestamptz', 'validFrom'), ...text('reason')],
    links: { customer: 'customer_id', station: 'station_id', fixture: 'fixture_id' },
    life: 'period',
  },
  'target-setting': {
    table: 'target_settings',
    fields: [...SETTINGS, ...text('reason')],
    links: { customer: 'customer_id', circuit: 'circuit_id' },
    life: 'revisions',
  },
  'setup-record': {
    table: 'setup_records',
    fields: [
      ...SETTINGS,
      ...quantity('s', 'clampTime', 'contactTime', 'unclampTime', 'timeTolerance', 'decayDuration'),
      ...quantity('pa', 'decay', 'gaugeSpan', 'lowestWhileShared'),
      ...quantity('k', 'oilTemperature'),
      ...text('gaugeClass', 'gaugeIdentity', 'reportName', 'measuredByName', 'reason'),
      ...plain('date', 'gaugeCalibratedOn', 'gaugeCalibrationDueOn'),
      ...plain('timestamptz', 'measuredAt'),
    ],
    links: { customer: 'customer_id', circuit: 'circuit_id' },
    life: 'revisions',
  },
};

/** What holds from one day to another. */
export type PeriodEntity = 'installed-component' | 'operation' | 'fixture-fitting';
/** What is never changed, only followed by a further revision. */
export type RevisedEntity = 'target-setting' | 'setup-record';
export const isTable = (entity: ImportEntity): entity is TableEntity => Object.hasOwn(TABLES, entity);
export const TABLE_ENTITIES: readonly TableEntity[] = IMPORT_ENTITIES.filter((entity) => isTable(entity));
export const hasPeriod = (entity: TableEntity): entity is PeriodEntity => TABLES[entity].life === 'period';
export const isRevised = (entity: TableEntity): entity is RevisedEntity => TABLES[entity].life === 'revisions';
