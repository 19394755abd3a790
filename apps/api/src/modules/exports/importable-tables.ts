import { SI_ENDINGS } from '@repo/calc/figures';
import { columnsOfEntity, type ImportEntity, type ImportField } from '@repo/contracts';
import type { QuantityKind } from '@repo/quantity';
import { SPECIAL } from './document-columns.js';
import { join, snake, UTC, UUID_KEY, type ExportColumn, type ExportedTable } from './export-columns.js';

/** Of figures, and of the cross-section of a wire, which is none. */
const ENDINGS: Readonly<Partial<Record<QuantityKind, string>>> = { ...SI_ENDINGS, area: 'M2' };

const customer = join('customers', 'c', 't.customer_id');
const machineOf = (on: string): string => join('machines', 'm', on);
const site = join('sites', 's', 'm.site_id');
const ofMachine = `${customer} ${machineOf('t.machine_id')} ${site}`;
const ofCircuit = `${customer} ${join('circuits', 'ci', 't.circuit_id')} ${machineOf('ci.machine_id')} ${site}`;
const IN_USE = 't.archived_at IS NULL';
const NOW = 't.valid_to IS NULL';
const STATIONS = `(SELECT array_agg(x.name ORDER BY x.position, x.id) FROM stations x
  WHERE x.organisation_id = t.organisation_id AND x.machine_id = t.id AND x.archived_at IS NULL)`;
/** Of what is written in revisions the last says what holds. */
const isLast = (table: string, ...same: string[]): string =>
  `NOT EXISTS (SELECT 1 FROM ${table} later WHERE later.organisation_id = t.organisation_id AND later.revision > t.revision
    AND ${same.map((column) => `later.${column} = t.${column}`).join(' AND ')})`;

interface Place {
  from: string;
  where: string;
  /** aliases of what the record hangs on */
  parents: Partial<Record<ImportEntity, string>>;
  timeZone?: string;
  /** where a record has no row of its own */
  key?: ExportedTable['key'];
}

const PLACES: Readonly<Record<ImportEntity, Place>> = {
  'component-type': { from: 'component_types t', where: IN_USE, parents: {} },
  customer: { from: 'customers t', where: IN_USE, parents: {} },
  site: { from: `sites t ${customer}`, where: IN_USE, parents: { customer: 'c' } },
  machine: {
    from: `machines t ${customer} ${join('sites', 's', 't.site_id')}`,
    where: IN_USE,
    parents: { customer: 'c', site: 's' },
    timeZone: 's.time_zone',
  },
  station: { from: `stations t ${ofMachine}`, where: IN_USE, parents: { customer: 'c', site: 's', machine: 'm' } },
  'power-unit': {
    from: `power_units t ${ofMachine}`,
    where: IN_USE,
    parents: { customer: 'c', site: 's', machine: 'm' },
  },
  circuit: {
    from: `circuits t ${ofMachine} ${join('stations', 'st', 't.station_id')} ${join('power_units', 'p', 't.power_unit_id')}`,
    where: IN_USE,
    parents: { customer: 'c', site: 's', machine: 'm', station: 'st', 'power-unit': 'p' },
  },
  'installed-component': {
    from: `installed_components t ${ofMachine} ${join('power_units', 'p', 't.power_unit_id', true)} ${join('circuits', 'ci', 't.circuit_id', true)} ${join('component_types', 'ty', 't.component_type_id')}`,
    where: NOW,
    parents: { customer: 'c', site: 's', machine: 'm', 'power-unit': 'p', circuit: 'ci' },
    timeZone: 's.time_zone',
  },
  'm-code': {
    from: `m_codes t ${ofMachine} ${join('stations', 'st', 't.station_id', true)}`,
    where: IN_USE,
    parents: { customer: 'c', site: 's', machine: 'm', station: 'st' },
  },
  signal: {
    from: `signals t ${ofMachine} ${join('circuits', 'ci', 't.circuit_id', true)} ${join('m_codes', 'mc', 't.m_code_id', true)} ${join('installed_components', 'ic', 't.component_id', true)}`,
    where: IN_USE,
    parents: { customer: 'c', site: 's', machine: 'm', circuit: 'ci', 'm-code': 'mc' },
  },
  wire: {
    from: `wires t ${customer} ${join('signals', 'si', 't.signal_id')} ${machineOf('si.machine_id')} ${site}`,
    where: IN_USE,
    parents: { customer: 'c', site: 's', machine: 'm', signal: 'si' },
  },
  fixture: { from: `fixtures t ${customer}`, where: IN_USE, parents: { customer: 'c' } },
  'fixture-element': {
    from: `fixtures t ${customer} CROSS JOIN LATERAL jsonb_array_elements(t.elements) WITH ORDINALITY e (element, place)`,
    where: IN_USE,
    parents: { customer: 'c', fixture: 't' },
    key: [
      { sql: 't.id', cast: 'uuid' },
      { sql: 'e.place', cast: 'bigint' },
    ],
  },
  operation: {
    from: `operations t ${customer} ${join('fixtures', 'f', 't.fixture_id')}`,
    where: NOW,
    parents: { customer: 'c', fixture: 'f' },
    timeZone: UTC,
  },
  'fixture-fitting': {
    from: `fixture_fittings t ${customer} ${join('stations', 'st', 't.station_id')} ${machineOf('st.machine_id')} ${site} ${join('fixtures', 'f', 't.fixture_id')}`,
    where: NOW,
    parents: { customer: 'c', site: 's', machine: 'm', station: 'st', fixture: 'f' },
    timeZone: 's.time_zone',
  },
  'target-setting': {
    from: `target_settings t ${ofCircuit}`,
    where: isLast('target_settings', 'circuit_id'),
    parents: { customer: 'c', site: 's', machine: 'm', circuit: 'ci' },
  },
  'setup-record': {
    from: `setup_records t ${ofCircuit}`,
    where: isLast('setup_records', 'circuit_id', 'measured_at', 'report_name'),
    parents: { customer: 'c', site: 's', machine: 'm', circuit: 'ci' },
    timeZone: 's.time_zone',
  },
};

function toColumn(field: ImportField, alias: string): ExportColumn {
  const { header, name, kind } = field;
  const column = `${alias}.${snake(name)}`;
  const special = SPECIAL.get(field.key);
  if (special !== undefined) return special;
  switch (field.type) {
    case 'component-type':
      return { header, type: 'text', sql: 'ty.name' };
    case 'quantity': {
      if (kind === undefined) throw new Error(`${field.key} is a quantity of no kind`);
      // Its unit is in its name: it is stored as it was typed.
      if (/[a-z][AVW]$/.test(name)) return { header, type: 'quantity', kind, sql: column };
      const ending = ENDINGS[kind];
      if (ending === undefined) throw new Error(`${field.key}: where are figures of ${kind} stored?`);
      return { header, type: 'quantity', kind, sql: `${column}${snake(ending)}`, entered: `${column}_entered` };
    }
    case 'list':
      return { header, type: 'list', sql: field.key === 'machine.stations' ? STATIONS : column };
    case 'choice':
      return { header, type: 'text', sql: column };
    default:
      return { header, type: field.type, sql: column };
  }
}

/** An entity that can be imported, in the columns of its import. */
export function toImportableTable(entity: ImportEntity): ExportedTable {
  const { from, where, parents, timeZone, key = UUID_KEY } = PLACES[entity];
  const columns = columnsOfEntity(entity).map((field) => {
    const alias = field.entity === entity ? 't' : parents[field.entity];
    if (alias === undefined) throw new Error(`${entity} does not reach ${field.key}`);
    return toColumn(field, alias);
  });
  return { title: entity, from, where, key, columns, ...(timeZone === undefined ? {} : { timeZone }) };
}
