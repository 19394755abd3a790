import type { ExportTable } from '@repo/contracts';
import { join, UUID_KEY, type ExportColumn, type ExportColumnType, type ExportedTable } from './export-columns.js';

const column =
  (type: ExportColumnType) =>
  (header: string, sql: string): ExportColumn => ({ header, type, sql });
const text = column('text');
const integer = column('integer');
const number = column('number');
const yes = column('boolean');
const instant = column('instant');
const json = column('json');
const pressure = (header: string, name: string): ExportColumn => ({
  header,
  type: 'quantity',
  kind: 'pressure',
  sql: `t.${name}_pa`,
  entered: `t.${name}_entered`,
});

const customer = join('customers', 'c', 't.customer_id');
const machine = join('machines', 'm', 't.machine_id', true);
const circuit = join('circuits', 'ci', 't.circuit_id', true);
const machineOfCircuit = join('machines', 'm', 'ci.machine_id', true);
const NAMES = [text('Customer', 'c.name'), text('Machine', 'm.name'), text('Circuit', 'ci.name')];

/** Tables that are for reading: each as one flat sheet. */
export const FLAT_TABLES: Readonly<Partial<Record<ExportTable, ExportedTable>>> = {
  // One that was withdrawn never was.
  'ended-operations': {
    title: 'ended operations',
    from: `operations t ${customer} ${join('fixtures', 'f', 't.fixture_id')}`,
    where: "t.valid_to > t.valid_from + interval '1 microsecond'",
    key: UUID_KEY,
    columns: [
      text('Customer', 'c.name'),
      text('Fixture', 'f.name'),
      integer('Operation', 't.number'),
      text('Name', 't.name'),
      text('Tool', 't.tool'),
      text('Material', 't.material'),
      pressure('Required pressure', 'required_pressure'),
      text('Basis of the required pressure', 't.required_basis'),
      text('Source', 't.required_source'),
      pressure('Most that the workpiece allows', 'workpiece_limit'),
      yes('Workpiece does not limit', 't.workpiece_not_limiting'),
      instant('Valid from', 't.valid_from'),
      instant('Valid to', 't.valid_to'),
      text('Id', 't.id'),
    ],
  },
  'machine-placements': {
    title: 'places of machines',
    from: `machine_placements t ${customer} ${machine} ${join('sites', 's', 't.site_id')}`,
    // One that was withdrawn never was.
    where: "t.valid_to IS NULL OR t.valid_to > t.valid_from + interval '1 microsecond'",
    key: UUID_KEY,
    columns: [
      text('Customer', 'c.name'),
      text('Machine', 'm.name'),
      text('Site', 's.name'),
      instant('From', 't.valid_from'),
      instant('To', 't.valid_to'),
      text('Reason', 't.reason'),
      text('Id', 't.id'),
    ],
  },
  'circuit-standings': {
    title: 'circuit standings',
    from: `circuit_standings t ${customer} ${join('sites', 's', 't.site_id')} ${machine} ${circuit}`,
    key: [{ sql: 't.circuit_id', cast: 'uuid' }],
    columns: [
      text('Customer', 'c.name'),
      text('Site', 's.name'),
      text('Machine', 'm.name'),
      text('Circuit', 'ci.name'),
      text('Status', 't.status'),
      text('Check', 't.check_code'),
      text('Reason', 't.reason'),
      instant('Computed at', 't.computed_at'),
      text('Circuit id', 't.circuit_id'),
    ],
  },
  issues: {
    title: 'issues',
    from: `issues t ${customer} ${machine} ${circuit}`,
    key: UUID_KEY,
    columns: [
      integer('Number', 't.number'),
      text('Title', 't.title'),
      text('Kind', 't.kind'),
      text('State', 't.state'),
      ...NAMES,
      text('Check', 't.check_code'),
      text('Description', 't.description'),
      instant('Opened at', 't.opened_at'),
      text('Opened by', 't.opened_by_name'),
      yes('Opened by the customer', 't.opened_by_customer'),
      instant('Closed at', 't.closed_at'),
      text('Closed by', 't.closed_by_name'),
      text('Reason of closing', 't.close_reason'),
      text('Id', 't.id'),
    ],
  },
  'issue-comments': {
    title: 'issue comments',
    from: `issue_comments t ${customer} ${join('issues', 'i', 't.issue_id')}`,
    key: UUID_KEY,
    columns: [
      integer('Issue', 'i.number'),
      text('Customer', 'c.name'),
      text('Text', 't.text'),
      yes('Internal', 't.is_internal'),
      instant('Written at', 't.written_at'),
      text('Written by', 't.written_by_name'),
      text('Id', 't.id'),
    ],
  },
  'service-events': {
    title: 'service events',
    from: `service_events t ${customer} ${machine} ${circuit}`,
    key: UUID_KEY,
    columns: [
      instant('Occurred at', 't.occurred_at'),
      text('Kind', 't.kind'),
      ...NAMES,
      text('Text', 't.text'),
      text('Person', 't.person_name'),
      instant('Recorded at', 't.recorded_at'),
      text('Id', 't.id'),
    ],
  },
  'component-type-revisions': {
    title: 'component type revisions',
    from: `component_type_revisions t ${join('component_types', 'ct', 't.component_type_id')} ${join('memberships', 'me', 't.recorded_by', true)}`,
    key: UUID_KEY,
    columns: [
      text('Component type', 'ct.name'),
      integer('Revision', 't.revision'),
      text('Name then', 't.name'),
      json('Figures', 't.figures'),
      text('Reason', 't.reason'),
      instant('Recorded at', 't.recorded_at'),
      text('Recorded by', 'me.display_name'),
      text('Id', 't.id'),
    ],
  },
  'sizing-records': {
    title: 'sizing records',
    from: `sizing_records t ${customer} ${circuit} ${machineOfCircuit} LEFT JOIN sizing_currencies st ON st.organisation_id = t.organisation_id AND st.sizing_record_id = t.id`,
    key: UUID_KEY,
    columns: [
      integer('Number', 't.number'),
      ...NAMES,
      text('Basis', 't.basis'),
      text('Status', 't.status'),
      text('Currency', 'st.currency'),
      text('Calculations', 't.calculation_version'),
      text('SHA-256', "encode(t.sha256, 'hex')"),
      text('Note', 't.note'),
      instant('Made at', 't.created_at'),
      text('Made by', 't.created_by_name'),
      text('Id', 't.id'),
    ],
  },
  'alarm-counts': {
    title: 'alarm counts',
    from: `alarm_counts t ${customer} ${circuit} ${machineOfCircuit} ${join('sources', 'so', 't.source_id', true)}`,
    key: [
      { sql: 't.circuit_id', cast: 'uuid' },
      { sql: 't.to_at', cast: 'timestamptz' },
      { sql: 't.from_at', cast: 'timestamptz' },
      { sql: 't.revision', cast: 'int' },
      // Two reports may contradict each other in one revision.
      { sql: 't.numbers_hash', cast: 'bigint' },
    ],
    columns: [
      ...NAMES,
      instant('From', 't.from_at'),
      instant('To', 't.to_at'),
      integer('Revision', 't.revision'),
      yes('Prevails', 't.prevails'),
      integer('Clamp cycles', 't.clamp_cycles'),
      json('Alarms', 't.alarms'),
      json('Measures', 't.measures'),
      text('Source', 'so.name'),
      instant('Received at', 't.received_at'),
      text('Circuit id', 't.circuit_id'),
    ],
    counts: { header: 'Alarms', sql: 't.alarms' },
  },
  'alarm-rules': {
    title: 'alarm rules',
    from: `alarm_rules t ${join('customers', 'c', 't.customer_id', true)} ${circuit} ${machineOfCircuit}`,
    key: UUID_KEY,
    columns: [
      ...NAMES,
      text('Alarm', 't.alarm_kind'),
      integer('Threshold', 't.threshold'),
      integer('Window [s]', 't.window_s'),
      yes('On', 't.is_on'),
      text('Id', 't.id'),
    ],
  },
  sources: {
    title: 'sources',
    from: 'sources t',
    where: 't.archived_at IS NULL',
    key: UUID_KEY,
    columns: [
      text('Name', 't.name'),
      instant('Last heard', 't.last_heard_at'),
      number('Clock offset [s]', 't.clock_offset_s'),
      integer('Silent after [s]', 't.silent_after_s'),
      text('Id', 't.id'),
    ],
  },
  'source-machines': {
    title: 'machines by reference',
    from: `source_machines t ${join('sources', 'so', 't.source_id')} ${customer} ${machine}`,
    key: UUID_KEY,
    columns: [
      text('Source', 'so.name'),
      text('External reference', 't.external_reference'),
      text('Customer', 'c.name'),
      text('Machine', 'm.name'),
      instant('Entered at', 't.created_at'),
      text('Id', 't.id'),
    ],
  },
  deliveries: {
    title: 'deliveries',
    from: `deliveries t ${join('sources', 'so', 't.source_id')}`,
    key: UUID_KEY,
    columns: [
      text('Source', 'so.name'),
      text('Webhook id', 't.webhook_id'),
      instant('Sent at', 't.sent_at'),
      instant('Received at', 't.received_at'),
      text('State', 't.state'),
      integer('Intervals taken in', 't.intervals'),
      integer('Set aside', 't.set_aside'),
      text('SHA-256 of the body', "encode(t.body_sha256, 'hex')"),
    ],
  },
  findings: {
    title: 'findings',
    from: `findings t ${join('sources', 'so', 't.source_id', true)} ${circuit}`,
    key: UUID_KEY,
    columns: [
      text('Kind', 't.kind'),
      text('State', 't.state'),
      text('Source', 'so.name'),
      text('Circuit', 'ci.name'),
      text('Subject', 't.subject'),
      json('Detail', 't.detail'),
      instant('Found at', 't.found_at'),
      instant('Settled at', 't.settled_at'),
      text('Settlement', 't.settlement'),
      text('Id', 't.id'),
    ],
  },
  memberships: {
    title: 'people',
    from: `memberships t ${join('customers', 'c', 't.customer_id', true)}`,
    where: 't.archived_at IS NULL',
    key: UUID_KEY,
    columns: [
      text('Name', 't.display_name'),
      text('Role', 't.role'),
      text('Customer', 'c.name'),
      instant('Since', 't.created_at'),
      text('Id', 't.id'),
    ],
  },
  jobs: {
    title: 'jobs',
    from: `jobs t ${join('memberships', 'me', 't.requested_by', true)}`,
    key: UUID_KEY,
    columns: [
      text('Kind', 't.kind'),
      text('State', 't.state'),
      text('Asked for by', 'me.display_name'),
      instant('Asked for at', 't.created_at'),
      instant('Started at', 't.started_at'),
      instant('Ended at', 't.finished_at'),
      integer('Tries', 't.attempts'),
      json('Problem', 't.problem'),
      text('Id', 't.id'),
    ],
  },
  imports: {
    title: 'imports',
    from: 'imports t',
    key: UUID_KEY,
    columns: [
      text('File', 't.file_name'),
      text('State', 't.state'),
      json('Counts', 't.counts'),
      text('Begun by', 't.created_by_name'),
      instant('Begun at', 't.created_at'),
      instant('Committed at', 't.committed_at'),
      instant('Undone at', 't.undone_at'),
      text('Id', 't.id'),
    ],
  },
  'audit-entries': {
    title: 'audit trail',
    from: `audit_entries t ${join('customers', 'c', 't.customer_id', true)}`,
    key: UUID_KEY,
    columns: [
      instant('At', 't.at'),
      text('Who', 't.actor_name'),
      text('Did', 't.action'),
      text('To', 't.entity'),
      text('Record', 't.entity_id'),
      text('Customer', 'c.name'),
      json('Changes', 't.changes'),
      text('Request', 't.request_id'),
      text('Id', 't.id'),
    ],
  },
};
