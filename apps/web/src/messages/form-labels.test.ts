import { writeFileSync } from 'node:fs';
import { CUT_FIGURES, FORM_LABELS, IMPORT_FIELDS, type ImportEntity } from '@repo/contracts';
import { en } from './en';

/** Where the words of an entity's fields lie: the first that is there holds. */
const PREFIXES: Readonly<Partial<Record<ImportEntity, readonly string[]>>> = {
  'component-type': ['componentFigure', 'componentTypes'],
  customer: ['customers'],
  site: ['sites'],
  machine: ['machine.form', 'control', 'control.behaviour', 'machine'],
  'power-unit': ['powerUnit'],
  circuit: ['circuit'],
  'installed-component': ['components'],
  'm-code': ['control'],
  signal: ['control'],
  wire: ['control'],
  fixture: ['fixtures'],
  'fixture-element': ['fixtureElement', 'fixtures'],
  operation: ['operations', 'cut'],
  'target-setting': ['settings'],
  'setup-record': ['settings'],
};
/** Words that are called otherwise than their fields. */
const ELSEWHERE: Readonly<Record<string, string>> = {
  'customer.contactName': 'customers.person',
  'customer.contactEmail': 'customers.email',
  'customer.contactPhone': 'customers.phone',
  'machine.emergencyStopBehaviour': 'machine.form.emergencyStop',
  'station.name': 'circuit.station',
  'signal.name': 'control.signal',
  'signal.suppressionVoltageV': 'control.suppressionVoltage',
  'wire.number': 'control.wire',
  'wire.fromTerminal': 'control.from',
  'wire.toTerminal': 'control.to',
  'wire.insulationVoltageV': 'control.insulation',
  'wire.protectionA': 'control.protection',
  'wire.conductorLimitA': 'control.conductorLimit',
  'wire.highestInCableV': 'control.highestInCable',
  'fixture.description': 'machine.form.description',
  'fixture-element.kind': 'components.kind',
  'fixture-element.name': 'componentTypes.name',
  'operation.name': 'componentTypes.name',
  'operation.requiredPressure': 'operations.required',
  'component-type.kind': 'components.kind',
  'component-type.reason': 'settings.reason',
  'installed-component.componentType': 'components.type',
  'installed-component.serial': 'machine.serial',
  'installed-component.lineFunctions': 'components.lines',
  'installed-component.validFrom': 'components.fittedAt',
  'installed-component.reason': 'settings.reason',
  'fixture-fitting.validFrom': 'components.fittedAt',
  'fixture-fitting.reason': 'settings.reason',
};
/** Asked for in another way: a list, a cell of several figures, the source beside a figure. */
const BY_NO_LABEL = new Set([
  'component-type.figuresSource',
  'installed-component.ownFigures',
  'signal.component',
  'operation.workpieceNotLimiting',
]);

const words: Readonly<Record<string, string>> = en;
const findLabel = (entity: ImportEntity, name: string): string | undefined =>
  words[
    ELSEWHERE[`${entity}.${name}`] ??
      (name === 'note'
        ? 'customers.note'
        : (PREFIXES[entity] ?? []).map((prefix) => `${prefix}.${name}`).find((key) => key in words)) ??
      ''
  ];
/** Without the unit or the remark in brackets behind it; letters and numbers alone. */
const fold = (text: string): string =>
  text
    .replace(/\s*[[(][^\])]*[\])]$/, '')
    .toLowerCase()
    .replaceAll(/[^\p{L}\p{N}+/]+/gu, ' ')
    .trim();

const FIELDS = IMPORT_FIELDS.filter(
  ({ key, entity, name }) => !BY_NO_LABEL.has(key) && !(entity === 'component-type' && name.endsWith('Source')),
);

const isKnownAnyway = (field: (typeof FIELDS)[number], label: string): boolean =>
  [field.header, ...(field.synonyms ?? [])].map(fold).includes(fold(label));
/** Of the columns that are headed otherwise. */
const labels: Readonly<Record<string, string>> = Object.fromEntries(
  FIELDS.flatMap((field) => {
    const label = findLabel(field.entity, field.name);
    return label === undefined || isKnownAnyway(field, label) ? [] : [[field.key, label]];
  }),
);

const FILE = new URL('../../../../packages/contracts/src/imports/form-labels.generated.ts', import.meta.url);
const quoted = (text: string): string => (text.includes("'") ? JSON.stringify(text) : `'${text}'`);
const HEAD = `/**
 * How a form of the pages asks for what a column holds, where its heading is another one: whoever copies the words of a page into the
 * first row of a sheet is understood. Written from the pages' catalogue: KEDGE_KEEP_LABELS=1 npm test -- form-labels
 */
export const FORM_LABELS: Readonly<Record<string, string>> = {`;
if (process.env['KEDGE_KEEP_LABELS'] === '1') {
  const lines = Object.entries(labels).map(([key, label]) => `  '${key}': ${quoted(label)},`);
  writeFileSync(FILE, [HEAD, ...lines, '};', ''].join('\n'));
}

describe('what a form asks with', () => {
  it.each(FIELDS.map(({ key, entity, name }) => [key, findLabel(entity, name)]))('%s: “%s”', (_key, label) => {
    expect(label).toEqual(expect.any(String));
  });

  it('is what a column is known by, as the catalogue has it today', () => {
    expect(FORM_LABELS).toEqual(labels);
  });

  it.each(Object.entries(CUT_FIGURES))('is what a figure of a cut is called: %s', (name, { label }) => {
    expect(label).toBe(words[`cut.${name}`]);
  });
});
