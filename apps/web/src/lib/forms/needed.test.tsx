import {
  area,
  check,
  checks,
  choice,
  choiceOrNone,
  day,
  moment,
  oneTimeCode,
  quantity,
  text,
  tristate,
} from './fields';
import { combo } from './combo';
import { number } from './number';
import type { FieldDef } from './field-def';
import { newPassword, secret } from './secret-field';

const label = 'form.problem' as const;
const VALUES = [{ value: 'a', label: 'A' }] as const;
const kindAndUnit = { kind: 'pressure', unit: 'bar' } as const;
type Row = [name: string, field: FieldDef<never, never>, empty: unknown];
const row = <D, V>(name: string, field: FieldDef<D, V>, empty: D): Row => [name, field as never, empty];

const rows: Row[] = [false, true].flatMap((isRequired) => {
  const options = { label, isRequired };
  return [
    row('text', text(options), ''),
    row('area', area(options), ''),
    row('day', day(options), ''),
    row('number', number(options), ''),
    row('quantity', quantity({ ...options, ...kindAndUnit }), { text: '', unit: 'bar' }),
    row('checks', checks({ ...options, choices: VALUES }), []),
    row('combo', combo({ ...options, choices: VALUES }), ''),
  ];
});
rows.push(
  row('moment', moment({ label, timeZone: 'UTC' }), ''),
  row('one-time code', oneTimeCode({ label }), ''),
  row('any code', oneTimeCode({ label, isAny: true }), ''),
  row('secret', secret({ label }), ''),
  row('new password', newPassword(), ''),
  row('choice with none shown', choice({ label, choices: VALUES, noneText: 'pick' }), ''),
  row(
    'choice with none taken',
    choice({ label, choices: [...VALUES, { value: '', label: 'none' }], noneText: 'none' }),
    '',
  ),
  row('choice or none', choiceOrNone({ label, choices: VALUES, noneText: 'not said' }), ''),
  row('tristate', tristate({ label, words: ['yes', 'no', 'not known'] }), 'unknown'),
  row('check', check({ label }), false),
);

describe('a field that says that it is needed', () => {
  it.each(rows)('%s is one that refuses to be left empty, and no other', (_name, field, empty) => {
    const reading = field.read(empty as never);
    expect(reading.ok).toBe(field.isRequired !== true);
  });
});
