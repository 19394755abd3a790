import { importField } from '@repo/contracts';
import type { Translate } from '@/lib/i18n/i18n';

/** Where the forms have the words of what can be chosen, by the noun or by the field. */
const PREFIXES: Readonly<Record<string, string>> = {
  'component-type.kind': 'componentKind',
  machine: 'machine',
  'machine.onPressureLoss': 'control.does',
  'machine.unclampBlockedWhile': 'control.does',
  'machine.onEmergencyStop': 'control.does',
  'machine.onReset': 'control.does',
  'machine.onPowerReturn': 'control.does',
  'machine.onAirLow': 'control.does',
  'machine.airReturn': 'control.does',
  'power-unit': 'powerUnit',
  circuit: 'circuit',
  'installed-component': 'components',
  'installed-component.lineFunctions': 'components.line',
  'm-code': 'control',
  signal: 'control',
  'fixture-element': 'fixtureElement',
  'fixture-element.kind': 'fixtures.kind',
  operation: 'cut',
  'operation.requiredBasis': 'operations.basis',
};

/** What a file may say of a field, in the words in which its form asks; null where it is no choice of it. */
export function findChoiceWord(t: Translate, key: string, value: string): string | null {
  const field = importField(key);
  if (field?.choices?.includes(value) !== true) return null;
  const name = key.slice(key.indexOf('.') + 1);
  const group = PREFIXES[key] ?? `${PREFIXES[field.entity] ?? ''}.${name}`;
  return t.find(`${group}.${value}`);
}

/** A cell in words: of one choice, or of several. */
export const toChoiceWords = (t: Translate, key: string, value: string): string =>
  value
    .split(', ')
    .map((one) => findChoiceWord(t, key, one) ?? one)
    .join(', ');
