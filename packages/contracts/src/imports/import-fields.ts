import {
  CIRCUIT_FIGURES,
  FIXTURE_FIGURES,
  MACHINE_CONTROL,
  MACHINE_MAKE,
  MACHINE_SUPPLY,
  POWER_UNIT_FIGURES,
} from '@repo/calc/figures';
import { COMPONENT_TYPE_FIELDS } from './component-type-fields.js';
import { CONTROL_BEHAVIOUR_FIELDS } from './control-fields.js';
import { fieldsOfFigures } from './figure-columns.js';
import { FIXTURE_ELEMENT_FIELDS, OPERATION_FIELDS } from './fixture-part-fields.js';
import { CONTROL_WIRING_FIELDS } from './wiring-fields.js';
import { fieldsOf, type ImportEntity, type ImportField, type Rest } from './import-field-model.js';

export { IMPORT_ENTITIES, type ImportEntity, type ImportField } from './import-field-model.js';
export { COMPONENT_FIGURE_COLUMNS, type ComponentFigureColumns } from './component-type-fields.js';
export { CONTROL_BEHAVIOUR_FIELDS } from './control-fields.js';

const customer = fieldsOf('customer');
const site = fieldsOf('site');
const machine = fieldsOf('machine');
const station = fieldsOf('station');
const unit = fieldsOf('power-unit');
const circuit = fieldsOf('circuit');
const component = fieldsOf('installed-component');
const fixture = fieldsOf('fixture');
const fitting = fieldsOf('fixture-fitting');

const NAME = { max: 120 } as const;
const SHORT = { max: 400 } as const;
const NOTE = { max: 4000 } as const;
const pressure = (rest: Rest = {}): Rest => ({ kind: 'pressure', ...rest });
const time = (rest: Rest = {}): Rest => ({ kind: 'time', ...rest });

const settingsOf = (field: ReturnType<typeof fieldsOf>): ImportField[] => [
  field(
    'setting',
    'Setting',
    'quantity',
    pressure({ required: true, synonyms: ['working pressure', 'pressure', 'set pressure', 'system pressure'] }),
  ),
  field(
    'settingTolerance',
    'Setting tolerance',
    'quantity',
    pressure({ zero: true, synonyms: ['tolerance', 'setting +/-'] }),
  ),
  field(
    'setPoint',
    'Switch set point',
    'quantity',
    pressure({ synonyms: ['set point', 'switch point', 'switch on', 'pressure switch'] }),
  ),
  field('resetPoint', 'Switch reset point', 'quantity', pressure({ synonyms: ['reset point', 'switch off', 'reset'] })),
  field('airPressure', 'Air pressure', 'quantity', pressure({ synonyms: ['regulator', 'air', 'air setting'] })),
  field('pumpRestart', 'Pump restart', 'quantity', pressure({ synonyms: ['cut-in', 'restart'] })),
  field('pumpRestartTolerance', 'Pump restart tolerance', 'quantity', pressure({ zero: true })),
];

/**
 * The one table of what a spreadsheet may hold: templates, the reading of files and exports are made from it, so that what
 * was exported reads back unchanged.
 * Parents come before what hangs on them.
 */
export const IMPORT_FIELDS: readonly ImportField[] = [
  ...COMPONENT_TYPE_FIELDS,

  customer('name', 'Customer', 'text', {
    required: true,
    ...NAME,
    synonyms: ['customer name', 'client', 'company', 'account', 'end user'],
  }),
  customer('trade', 'Trade', 'text', { ...SHORT, synonyms: ['industry', 'sector'] }),
  customer('contactName', 'Contact', 'text', { ...SHORT, synonyms: ['contact name', 'contact person'] }),
  customer('contactEmail', 'Contact e-mail', 'text', { max: 254, synonyms: ['e-mail', 'email', 'contact email'] }),
  customer('contactPhone', 'Contact phone', 'text', { ...SHORT, synonyms: ['phone', 'telephone', 'tel'] }),
  customer('note', 'Customer note', 'text', NOTE),

  site('name', 'Site', 'text', {
    required: true,
    ...NAME,
    synonyms: ['site name', 'plant', 'location', 'hall', 'works'],
  }),
  site('place', 'Place', 'text', { required: true, ...NAME, synonyms: ['city', 'town'] }),
  site('timeZone', 'Time zone', 'text', { required: true, max: 60, synonyms: ['timezone', 'tz'] }),
  site('address', 'Address', 'text', { ...SHORT, synonyms: ['street'] }),
  site('country', 'Country', 'text', SHORT),
  site('latitude', 'Latitude', 'number', { min: -90, max: 90, synonyms: ['lat'] }),
  site('longitude', 'Longitude', 'number', { min: -180, max: 180, synonyms: ['lon', 'lng', 'long'] }),
  site('note', 'Site note', 'text', NOTE),

  machine('name', 'Machine', 'text', {
    required: true,
    ...NAME,
    synonyms: ['machine name', 'machine no', 'machine number', 'machine id', 'asset'],
  }),
  machine('form', 'Form', 'choice', { required: true, choices: ['pallets', 'single-station'], synonyms: ['type'] }),
  machine('wayIn', 'Way in', 'choice', {
    required: true,
    choices: ['rotary-union', 'through-table-supply', 'direct'],
    synonyms: ['oil supply', 'supply'],
  }),
  machine('stations', 'Stations', 'list', { ...NAME, synonyms: ['pallets', 'station names'] }),
  machine('description', 'Description', 'text', { ...SHORT, synonyms: ['machine description'] }),
  machine('model', 'Model', 'text', { ...SHORT, synonyms: ['machine model', 'machine type'] }),
  machine('serial', 'Machine serial', 'text', {
    ...SHORT,
    synonyms: ['machine serial no', 'machine serial number', 'serial no of machine'],
  }),
  ...fieldsOfFigures('machine', MACHINE_MAKE),
  machine('axes', 'Axes', 'text', SHORT),
  ...fieldsOfFigures('machine', MACHINE_CONTROL),
  machine('inServiceOn', 'In service on', 'date', {
    synonyms: ['commissioned', 'commissioned on', 'in service since'],
  }),
  machine('warrantyUntil', 'Warranty until', 'date', { synonyms: ['warranty', 'warranty end'] }),
  machine('trainedPersons', 'Persons trained', 'text', NOTE),
  machine('kitList', 'Kit list', 'text', NOTE),
  machine('asShipped', 'As shipped', 'text', NOTE),
  machine('asReceived', 'As received', 'text', NOTE),
  machine('quoteReference', 'Quote reference', 'text', { ...SHORT, synonyms: ['quote', 'order', 'order no'] }),
  machine('emergencyStopBehaviour', 'Emergency stop behaviour', 'text', NOTE),
  ...fieldsOfFigures('machine', MACHINE_SUPPLY),
  ...CONTROL_BEHAVIOUR_FIELDS,

  station('name', 'Station', 'text', { required: true, ...NAME, synonyms: ['pallet', 'station name'] }),

  unit('name', 'Power unit', 'text', {
    required: true,
    ...NAME,
    synonyms: ['power unit name', 'hpu', 'hydraulic unit', 'pump unit'],
  }),
  unit('drive', 'Drive', 'choice', { required: true, choices: ['air', 'electric'], synonyms: ['pump drive'] }),
  ...fieldsOfFigures('power-unit', POWER_UNIT_FIGURES),
  unit('note', 'Power unit note', 'text', NOTE),

  circuit('name', 'Circuit', 'text', { required: true, ...NAME, synonyms: ['circuit name', 'clamping circuit'] }),
  circuit('purpose', 'Purpose', 'text', { ...NAME, synonyms: ['use'] }),
  ...fieldsOfFigures('circuit', CIRCUIT_FIGURES),
  circuit('note', 'Circuit note', 'text', NOTE),

  component('designation', 'Designation', 'text', {
    required: true,
    max: 40,
    // Where another column says of which type it is, “component” is what it is called.
    synonyms: ['item designation', 'item', 'tag', 'position', 'component'],
  }),
  component('componentType', 'Component type', 'component-type', {
    required: true,
    ...NAME,
    synonyms: ['component', 'part', 'part number', 'type of component'],
  }),
  component('lineFunctions', 'Lines', 'list', {
    choices: ['supply', 'tank', 'clamp', 'unclamp'],
    synonyms: ['line', 'line functions'],
  }),
  component('serial', 'Serial', 'text', { ...SHORT, synonyms: ['serial no', 'serial number', 's/n'] }),
  component('lot', 'Lot', 'text', { ...SHORT, synonyms: ['batch', 'lot no', 'lot number'] }),
  component('madeOn', 'Made on', 'date', { synonyms: ['made date', 'manufactured', 'date made'] }),
  component('sensing', 'Senses at', 'choice', { choices: ['pump', 'manifold', 'clamp-line'] }),
  component('isBeyondShutOff', 'Between shut-off and clamps', 'boolean', {
    synonyms: ['beyond shut-off', 'beyond check valve'],
  }),
  // `inner diameter = 6 mm [measured]; length = 2 m [drawing 12]`: few have any, and a column for each would be empty.
  component('ownFigures', 'Figures of its own', 'text', { max: 20_000, synonyms: ['own figures'] }),
  component('validFrom', 'Installed from', 'instant', {
    required: true,
    synonyms: ['installed', 'installed on', 'fitted', 'install date'],
  }),
  component('reason', 'Installed because', 'text', SHORT),

  ...CONTROL_WIRING_FIELDS,

  fixture('name', 'Fixture', 'text', { required: true, ...NAME, synonyms: ['fixture name', 'fixture no'] }),
  fixture('description', 'Fixture description', 'text', SHORT),
  ...fieldsOfFigures('fixture', FIXTURE_FIGURES),
  fixture('ratedPressureSource', 'Source of the rating', 'text', SHORT),
  fixture('note', 'Fixture note', 'text', NOTE),

  ...FIXTURE_ELEMENT_FIELDS,
  ...OPERATION_FIELDS,

  fitting('validFrom', 'Fixture fitted from', 'instant', {
    required: true,
    synonyms: ['fixture fitted', 'fixture fitted on'],
  }),
  fitting('reason', 'Fixture fitted because', 'text', SHORT),

  // “Setting” alone is what was measured; a target says so.
  ...settingsOf(fieldsOf('target-setting')).map((field) => ({
    ...field,
    header: `Target: ${field.header.toLowerCase()}`,
    synonyms: [],
  })),
  fieldsOf('target-setting')('reason', 'Target: reason', 'text', { required: true, ...SHORT }),

  ...settingsOf(fieldsOf('setup-record')),
  fieldsOf('setup-record')('clampTime', 'Clamp time', 'quantity', time({ synonyms: ['clamping time'] })),
  fieldsOf('setup-record')('contactTime', 'Contact time', 'quantity', time()),
  fieldsOf('setup-record')('timeTolerance', 'Tolerance of the times', 'quantity', time({ zero: true })),
  fieldsOf('setup-record')('unclampTime', 'Unclamp time', 'quantity', time({ synonyms: ['unclamping time'] })),
  fieldsOf('setup-record')(
    'decay',
    'Pressure fall',
    'quantity',
    pressure({ zero: true, synonyms: ['leak test', 'decay', 'pressure drop'] }),
  ),
  fieldsOf('setup-record')(
    'decayDuration',
    'Pressure fall within',
    'quantity',
    time({ synonyms: ['leak test duration'] }),
  ),
  fieldsOf('setup-record')('oilTemperature', 'Oil temperature', 'quantity', { kind: 'temperature' }),
  fieldsOf('setup-record')('lowestWhileShared', 'Lowest while another circuit clamps', 'quantity', pressure()),
  fieldsOf('setup-record')('gaugeSpan', 'Gauge span', 'quantity', pressure()),
  fieldsOf('setup-record')('gaugeClass', 'Gauge class', 'choice', {
    choices: ['0.1', '0.25', '0.6', '1', '1.6', '2.5', '4'],
    synonyms: ['accuracy class'],
  }),
  fieldsOf('setup-record')('gaugeIdentity', 'Gauge', 'text', { ...SHORT, synonyms: ['gauge no', 'gauge identity'] }),
  fieldsOf('setup-record')('gaugeCalibratedOn', 'Gauge calibrated on', 'date', { synonyms: ['calibration date'] }),
  fieldsOf('setup-record')('gaugeCalibrationDueOn', 'Gauge calibration due on', 'date', {
    synonyms: ['calibration due', 'calibration valid until'],
  }),
  fieldsOf('setup-record')('measuredAt', 'Measured at', 'instant', {
    required: true,
    synonyms: ['measured on', 'date measured', 'test date', 'date'],
  }),
  fieldsOf('setup-record')('measuredByName', 'Measured by', 'text', {
    required: true,
    ...SHORT,
    synonyms: ['measured by', 'tested by', 'technician'],
  }),
  fieldsOf('setup-record')('reportName', 'Report', 'text', {
    required: true,
    ...SHORT,
    synonyms: ['report name', 'report no', 'protocol'],
  }),
  fieldsOf('setup-record')('reason', 'Reason', 'text', { required: true, ...SHORT, synonyms: ['why'] }),
];

const BY_KEY = new Map(IMPORT_FIELDS.map((field) => [field.key, field]));
export const importField = (key: string): ImportField | undefined => BY_KEY.get(key);

export const fieldsOfEntity = (entity: ImportEntity): readonly ImportField[] =>
  IMPORT_FIELDS.filter((field) => field.entity === entity);

/** The names of what a record hangs on: they go before its own columns. */
const PARENT_KEYS: Record<ImportEntity, readonly string[]> = {
  'component-type': [],
  customer: [],
  site: ['customer.name'],
  machine: ['customer.name', 'site.name'],
  station: ['customer.name', 'site.name', 'machine.name'],
  'power-unit': ['customer.name', 'site.name', 'machine.name'],
  circuit: ['customer.name', 'site.name', 'machine.name', 'station.name', 'power-unit.name'],
  'installed-component': ['customer.name', 'site.name', 'machine.name', 'power-unit.name', 'circuit.name'],
  'm-code': ['customer.name', 'site.name', 'machine.name', 'station.name'],
  signal: ['customer.name', 'site.name', 'machine.name', 'circuit.name', 'm-code.code'],
  wire: ['customer.name', 'site.name', 'machine.name', 'signal.name'],
  fixture: ['customer.name'],
  'fixture-element': ['customer.name', 'fixture.name'],
  operation: ['customer.name', 'fixture.name'],
  'fixture-fitting': ['customer.name', 'site.name', 'machine.name', 'station.name', 'fixture.name'],
  'target-setting': ['customer.name', 'site.name', 'machine.name', 'circuit.name'],
  'setup-record': ['customer.name', 'site.name', 'machine.name', 'circuit.name'],
};

/** The columns of one entity's template, and of its export: names of what it hangs on, then its own. */
export const columnsOfEntity = (entity: ImportEntity): readonly ImportField[] => [
  ...PARENT_KEYS[entity].flatMap((key) => BY_KEY.get(key) ?? []),
  ...fieldsOfEntity(entity),
];

/** How a column is headed: `Setting [bar]` where all its numbers are in one unit. */
export const headerOf = (field: ImportField, unitSymbol?: string): string =>
  unitSymbol === undefined || unitSymbol === '' ? field.header : `${field.header} [${unitSymbol}]`;
