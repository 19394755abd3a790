import { isMessageKey, type MessageKey } from '@/messages';

/** Where forms have the words of a record's fields: `prefix.name`. */
const PREFIXES: Readonly<Record<string, readonly string[]>> = {
  customer: ['customers'],
  site: ['sites'],
  machine: ['machine.form', 'machine', 'control'],
  'power-unit': ['powerUnit'],
  circuit: ['circuit'],
  'component-type': ['componentTypes'],
  'installed-component': ['components', 'componentTypes'],
  fixture: ['fixtures'],
  'fixture-fitting': ['fixtures'],
  operation: ['operations'],
  'm-code': ['control'],
  signal: ['control'],
  wire: ['control'],
  'target-setting': ['settings'],
  'setup-record': ['settings'],
  issue: ['issues'],
  source: ['sources'],
  'alarm-rule': ['rule'],
  'api-key': ['apiKeys'],
  membership: ['people'],
  'identity-provider': ['provider'],
  organisation: ['organisation'],
  'sizing-record': ['sizing'],
};

/** Fields of one kind of record that its form has under another word. */
const OF_RECORD: Readonly<Record<string, MessageKey>> = {
  'customer.contactName': 'customers.person',
  'customer.contactEmail': 'customers.email',
  'customer.contactPhone': 'customers.phone',
  'site.accessWindows': 'sites.access',
  'machine.emergencyStopBehaviour': 'machine.form.emergencyStop',
  'operation.requiredPressure': 'operations.required',
  'operation.name': 'componentTypes.name',
  'operation.workpieceNotLimiting': 'operations.limit.notLimiting',
  'operation.ended': 'people.ended',
  'm-code.stationId': 'circuit.station',
  'signal.name': 'control.signal',
  'signal.mCodeId': 'control.code',
  'signal.suppressionVoltageV': 'control.suppressionVoltage',
  'wire.number': 'control.wire',
  'wire.fromTerminal': 'control.from',
  'wire.toTerminal': 'control.to',
  'wire.protectionA': 'control.protection',
  'wire.conductorLimitA': 'control.conductorLimit',
  'wire.insulationVoltageV': 'control.insulation',
  'wire.highestInCableV': 'control.highestInCable',
  'wire.signalId': 'control.signal',
  'issue.title': 'issues.titleField',
  'issue.assigneeMembershipId': 'issues.assignee',
  'source.silentAfterS': 'changes.field.silentAfterS',
  'alarm-rule.alarmKind': 'rule.kind',
  'alarm-rule.windowS': 'changes.field.windowS',
  'membership.displayName': 'account.name',
  'organisation.marginsAsked': 'organisation.margins',
  'sign-in-policy.demandsSecondFactor': 'changes.field.demandsSecondFactor',
};

/** Fields that many records have. */
const OF_ALL: Readonly<Record<string, MessageKey>> = {
  description: 'machine.form.description',
  name: 'changes.field.name',
  number: 'changes.field.number',
  status: 'changes.field.status',
  sha256: 'changes.field.sha256',
  sourceName: 'changes.field.sourceName',
  silentAfterS: 'changes.field.silentAfterS',
  note: 'customers.note',
  reason: 'settings.reason',
  customerId: 'fleet.customer',
  siteId: 'machine.site',
  machineId: 'fleet.machine',
  circuitId: 'fleet.circuit',
  powerUnitId: 'components.powerUnit.label',
  stationId: 'circuit.station',
  fixtureId: 'audit.entity.fixture',
  componentTypeId: 'components.type',
  componentId: 'audit.entity.installed-component',
  serial: 'machine.serial',
  controlBehaviour: 'control.sayBehaviour',
};

/** Words of what lies in a field that holds several things. */
const INNER: Readonly<Record<string, readonly string[]>> = {
  figures: ['componentFigure'],
  controlBehaviour: ['control.behaviour'],
  marginsAsked: ['check'],
  elements: ['fixtureElement', 'fixtures', 'componentTypes'],
  cut: ['operations', 'calculations'],
};

const asKey = (key: string): MessageKey | null => (isMessageKey(key) ? key : null);

/**
 * The word that a form has for a field of a record.
 * @param path names from the record down to the field: `figures`, `ratedPressure`
 */
export function findFieldKey(entity: string, path: readonly string[]): MessageKey | null {
  const [outer = ''] = path;
  const name = path.at(-1) ?? '';
  if (path.length > 1) {
    for (const prefix of INNER[outer] ?? []) {
      const key = asKey(`${prefix}.${name}`) ?? asKey(`${prefix}.${name}.name`);
      if (key !== null) return key;
    }
    return null;
  }
  if (name === 'archived') return 'changes.field.archived';
  const ofRecord = OF_RECORD[`${entity}.${name}`];
  if (ofRecord !== undefined) return ofRecord;
  for (const prefix of PREFIXES[entity] ?? []) {
    const key = asKey(`${prefix}.${name}`);
    if (key !== null) return key;
  }
  return OF_ALL[name] ?? null;
}
