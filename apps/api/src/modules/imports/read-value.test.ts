import { IMPORT_FIELDS, importField, type ImportField } from '@repo/contracts';
import { readValue, type ColumnStyle } from './read-value.js';

const STYLE: ColumnStyle = { unit: null, decimal: null, either: null, dateOrder: null };
const read = (cell: string, field: ImportField) => readValue(cell, field, STYLE);

/** As a screen shows what can be chosen. */
const spellings = (choice: string): string[] => {
  const words = choice.replaceAll('-', ' ');
  return [choice, words, words.charAt(0).toUpperCase() + words.slice(1), ` ${choice.toUpperCase()} `];
};

describe('a value that is chosen from words', () => {
  const withChoices = IMPORT_FIELDS.filter(({ type }) => type === 'choice').flatMap((field) =>
    (field.choices ?? []).map((choice): [string, string, ImportField] => [field.key, choice, field]),
  );

  it('is there for every field that has choices', () => {
    expect(IMPORT_FIELDS.filter(({ type, choices }) => type === 'choice' && (choices ?? []).length < 2)).toEqual([]);
    expect(withChoices.length).toBeGreaterThan(30);
  });

  it.each(withChoices)('%s: %s', (_key, choice, field) => {
    for (const spelling of spellings(choice)) {
      expect([spelling, read(spelling, field)]).toEqual([spelling, { ok: true, value: choice }]);
    }
    expect(read('nothing of the kind', field)).toMatchObject({ ok: false, code: 'choice' });
  });

  const answers = IMPORT_FIELDS.filter(({ type }) => type === 'boolean').map((field): [string, ImportField] => [
    field.key,
    field,
  ]);
  it.each(answers)('%s: yes and no', (_key, field) => {
    for (const yes of ['yes', 'Yes', ' YES ', 'true']) expect(read(yes, field)).toEqual({ ok: true, value: true });
    for (const no of ['no', 'No', ' NO ', 'false']) expect(read(no, field)).toEqual({ ok: true, value: false });
    expect(read('perhaps', field)).toMatchObject({ ok: false, code: 'yes-or-no' });
  });

  const lists = IMPORT_FIELDS.filter(({ type, choices }) => type === 'list' && choices !== undefined);
  it.each(lists.map((field): [string, ImportField] => [field.key, field]))('%s: several at once', (_key, field) => {
    const choices = [...(field.choices ?? [])];
    expect(read(choices.join('; '), field)).toEqual({ ok: true, value: choices });
    expect(read(choices.map((choice) => choice.toUpperCase()).join(', '), field)).toEqual({ ok: true, value: choices });
  });
});

describe('a quantity that is within bounds', () => {
  const bounded = IMPORT_FIELDS.filter(({ within, kind }) => within !== undefined && kind === 'modulus');
  it.each(bounded.map((field): [string, ImportField] => [field.key, field]))('%s: in its unit', (_key, field) => {
    expect(read('1500 MPa', field)).toMatchObject({ ok: true });
    expect(read('50 MPa', field)).toMatchObject({
      ok: false,
      code: 'range',
      params: { min: '100', max: '5000 MPa' },
    });
    expect(read('15 GPa', field)).toMatchObject({ ok: false, code: 'range', params: { min: '0.1', max: '5 GPa' } });
  });

  it('are the moduli of oil', () => {
    expect(bounded.map(({ key }) => key).sort()).toEqual([
      'circuit.trappedBulkModulus',
      'circuit.unclampBulkModulus',
      'power-unit.oilBulkModulus',
    ]);
  });

  it('is no voltage and no power that a control cannot have', () => {
    const voltage = importField('machine.controlVoltageV');
    if (voltage === undefined) throw new Error('no such field');
    expect(read('24 V', voltage)).toMatchObject({ ok: true, value: { si: 24 } });
    expect(read('0 V', voltage)).toMatchObject({ ok: false, code: 'zero' });
    expect(read('1.2 kV', voltage)).toMatchObject({ ok: false, code: 'range', params: { max: '1 kV' } });
  });
});

describe('a text of a file', () => {
  const texts = IMPORT_FIELDS.filter(({ type, key }) => type === 'text' && key !== 'site.timeZone');
  const cellOf = (field: ImportField, more: string): string =>
    field.key === 'customer.contactEmail' ? `someone${more}@example.test` : `Clamp${more} 1`;

  it.each(texts.map((field): [string, ImportField] => [field.key, field]))('%s: as through the door', (_key, field) => {
    expect(read(cellOf(field, ''), field)).toEqual({ ok: true, value: cellOf(field, '') });
    for (const turned of ['\u202e', '\uffff']) {
      expect(read(cellOf(field, turned), field)).toMatchObject({ ok: false, code: 'characters' });
    }
  });

  it.each(['customer.name', 'machine.stations', 'installed-component.designation', 'signal.name', 'wire.number'])(
    '%s is one line, all of which is seen',
    (key) => {
      const field = importField(key) as ImportField;
      for (const unseen of ['\u200b', '\u200d', '\ufeff', '\u2028']) {
        expect(read(`A${unseen}1`, field)).toMatchObject({ ok: false, code: 'characters' });
      }
      expect(read('Cafe\u0301 1', field)).toMatchObject({ ok: true });
      expect(JSON.stringify(read('Cafe\u0301 1', field))).toContain('Caf\u00e9 1');
    },
  );
});

describe('a day of a workbook', () => {
  const dates = IMPORT_FIELDS.filter(({ type }) => type === 'date' || type === 'instant');
  const day = (v: string, field: ImportField) => readValue({ t: 'date', v }, field, STYLE);

  // An empty cell that is shown as a day is 30 December 1899, and the last day of a workbook is that of the year 9999.
  it.each(dates.map((field): [string, ImportField] => [field.key, field]))('%s: one that can be', (_key, field) => {
    expect(day('2026-01-05T00:00:00.000Z', field)).toMatchObject({ ok: true });
    for (const impossible of ['1899-12-30T00:00:00.000Z', '9999-12-31T00:00:00.000Z', '+010000-01-01T00:00:00.000Z']) {
      expect(day(impossible, field)).toMatchObject({ ok: false, code: 'no-such-date' });
    }
  });
});

describe('a number of a file', () => {
  it('is zero, or a size that something can be', () => {
    const ratio = importField('component-type.stallEfficiency') as ImportField;
    const pressure = importField('fixture.ratedPressure') as ImportField;
    const length = importField('component-type.length') as ImportField;
    expect(read('0.98', ratio)).toMatchObject({ ok: true });
    expect(read('1e-300', ratio)).toMatchObject({ ok: false, code: 'too-small' });
    expect(read('1e-300 bar', pressure)).toMatchObject({ ok: false, code: 'too-small' });
    // As through the door: a line of 20 km is a slip.
    expect(read('20 km', length)).toMatchObject({ ok: false, code: 'too-large' });
    expect(read('2 GPa', pressure)).toMatchObject({ ok: true });
    expect(read('3 GPa', pressure)).toMatchObject({ ok: false, code: 'too-large' });
  });
});

// Half a second each, and a file may have thousands, when spaces were looked for from every place.
it.each(IMPORT_FIELDS.map(({ key }): [string] => [key]))('%s: a cell of spaces is read at once', (key) => {
  const began = performance.now();
  for (const text of [`4${' '.repeat(20_000)}mm`, `4${'\u00a0'.repeat(20_000)}x`]) {
    read(text, importField(key) as ImportField);
  }
  expect(performance.now() - began).toBeLessThan(150);
});
