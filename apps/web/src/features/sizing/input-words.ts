import type { Translate } from '@/lib/i18n/i18n';

/** Where forms have the words of what a group of the input holds. */
const PREFIXES: Readonly<Record<string, readonly string[]>> = {
  circuit: ['circuit'],
  circuits: ['circuit'],
  components: ['components'],
  mCodes: ['control'],
  signals: ['control'],
  wires: ['control'],
  machine: ['machine.form', 'control'],
  behaviour: ['control.behaviour'],
  powerUnit: ['powerUnit'],
  fixture: ['fixtures'],
  elements: ['fixtureElement', 'fixtures'],
  operations: ['operations'],
  settings: ['settings'],
};
/** What a form asks for under another name. */
const OF_GROUP: Readonly<Record<string, string>> = {
  'components.lineFunctions': 'components.lines',
  'wires.number': 'control.wire',
  'wires.protectionA': 'control.protection',
  'wires.conductorLimitA': 'control.conductorLimit',
  'wires.insulationVoltageV': 'control.insulation',
  'wires.highestInCableV': 'control.highestInCable',
  'signals.suppressionVoltageV': 'control.suppressionVoltage',
  'operations.requiredPressurePa': 'operations.required',
};
/** Words of what can be chosen that are no `label.choice`. */
const CHOICES: Readonly<Record<string, string>> = {
  kind: 'componentKind',
  lineFunctions: 'components.line',
  behaviour: 'control.does',
};
const SI = /(KgPerM3|PaPerS|M3PerS|M2PerS|NsPerM|NPerM|Pa|M3|M2|N|K|S|M|W|V|A)$/;

/** How the forms call a figure of a group of the input; null: in no form. A unit in brackets behind it goes: the figure has its own. */
export function findInputWord(t: Translate, group: string, name: string): string | null {
  const bare = name.replace(SI, '');
  const keys = (PREFIXES[group] ?? []).flatMap((prefix) => [`${prefix}.${name}`, `${prefix}.${bare}`]);
  const found = [OF_GROUP[`${group}.${name}`] ?? '', ...keys].map((key) => t.find(key)).find((word) => word !== null);
  return found?.replace(/ \[[^\]]*\]$/, '') ?? null;
}

/** A word of what can be chosen, as the forms have it; else as it is, without its strokes. */
export function toChoiceWord(t: Translate, group: string, name: string, value: string): string {
  const prefixes = [CHOICES[name], CHOICES[group], ...(PREFIXES[group] ?? []).map((prefix) => `${prefix}.${name}`)];
  const found = prefixes.map((prefix) => (prefix === undefined ? null : t.find(`${prefix}.${value}`)));
  return found.find((word) => word !== null) ?? (/^[a-z]+(-[a-z]+)+$/.test(value) ? value.replaceAll('-', ' ') : value);
}

const isRecord = (value: unknown): value is Record<string, unknown> =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

/** What each id of the input stands for. */
export function namesById(value: unknown, found = new Map<string, string>()): ReadonlyMap<string, string> {
  if (Array.isArray(value)) for (const item of value) namesById(item, found);
  if (!isRecord(value)) return found;
  const { id, name, code, number, stationId } = value;
  const called = [name, code, number].find((one) => typeof one === 'string' && one !== '');
  if (typeof id === 'string' && typeof called === 'string') found.set(id, called);
  // A station has no record of its own here: it is known by the circuit that clamps at it.
  if (typeof stationId === 'string' && typeof name === 'string' && !found.has(stationId)) found.set(stationId, name);
  for (const entry of Object.values(value)) namesById(entry, found);
  return found;
}
