import { EVERYONE, STAFF, type Role } from '../common/route.js';
import type { ImportEntity } from '../imports/import-fields.js';

interface ExportTableRow {
  /** who may see the table as a list, and so may take it away */
  readonly access: readonly Role[];
  /** its columns are those of the import, so that it reads back unchanged */
  readonly entity?: ImportEntity;
}

const IMPORTERS: readonly Role[] = ['engineer', 'administrator'];
const AUDITORS: readonly Role[] = ['engineer', 'lead', 'administrator'];

/** Every table that a person can see, by the noun of its list. Row security decides which rows are theirs. */
export const EXPORT_TABLES = {
  customers: { access: EVERYONE, entity: 'customer' },
  sites: { access: EVERYONE, entity: 'site' },
  machines: { access: EVERYONE, entity: 'machine' },
  stations: { access: EVERYONE, entity: 'station' },
  'power-units': { access: EVERYONE, entity: 'power-unit' },
  circuits: { access: EVERYONE, entity: 'circuit' },
  'installed-components': { access: STAFF, entity: 'installed-component' },
  fixtures: { access: EVERYONE, entity: 'fixture' },
  'fixture-elements': { access: EVERYONE, entity: 'fixture-element' },
  'fixture-fittings': { access: EVERYONE, entity: 'fixture-fitting' },
  'target-settings': { access: EVERYONE, entity: 'target-setting' },
  'setup-records': { access: EVERYONE, entity: 'setup-record' },
  operations: { access: EVERYONE, entity: 'operation' },
  'ended-operations': { access: EVERYONE },
  'circuit-standings': { access: EVERYONE },
  issues: { access: EVERYONE },
  'issue-comments': { access: EVERYONE },
  'service-events': { access: EVERYONE },
  'machine-placements': { access: EVERYONE },
  'component-types': { access: STAFF, entity: 'component-type' },
  'component-type-revisions': { access: STAFF },
  'm-codes': { access: STAFF, entity: 'm-code' },
  signals: { access: STAFF, entity: 'signal' },
  wires: { access: STAFF, entity: 'wire' },
  'sizing-records': { access: STAFF },
  'alarm-counts': { access: STAFF },
  'alarm-rules': { access: STAFF },
  sources: { access: STAFF },
  'source-machines': { access: STAFF },
  deliveries: { access: STAFF },
  findings: { access: STAFF },
  memberships: { access: STAFF },
  jobs: { access: STAFF },
  imports: { access: IMPORTERS },
  'audit-entries': { access: AUDITORS },
} as const satisfies Record<string, ExportTableRow>;

export type ExportTable = keyof typeof EXPORT_TABLES;
export const EXPORT_TABLE_NAMES = Object.keys(EXPORT_TABLES) as [ExportTable, ...ExportTable[]];

/** Whether a role sees a table. */
export const maySeeTable = (table: ExportTable, role: string): boolean =>
  EXPORT_TABLES[table].access.some((one) => one === role);

/** The most rows that are answered at once; more are exported in the background. */
export const EXPORT_ROWS_AT_ONCE = 5_000;
