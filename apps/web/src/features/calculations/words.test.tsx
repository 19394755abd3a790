import { describeRegistry, findCalculation, type CalculationDescription } from '@repo/calc';
import { SearchParamsContext } from 'next/dist/shared/lib/hooks-client-context.shared-runtime';
import { renderToStaticMarkup } from 'react-dom/server';
import { Symbol } from '@/lib/formula/formula';
import { catchTranslator } from '@/lib/i18n/catch-translator';
import { LocaleProvider } from '@/lib/i18n/i18n';
import { CalculationResult } from './components/calculation-result';
import { groupInputs } from './group-inputs';
import { sayFields, toFieldTitle, toPathTitle } from './field-titles';
import { toRefusalText } from './refusal-text';

/** The translator that pages get. */
const t = catchTranslator();

interface Described {
  fields?: Readonly<Record<string, Described>>;
  symbol?: string;
}
const all = describeRegistry();
/** Every field at any depth. */
const fieldsOf = (fields: Readonly<Record<string, Described>>): [string, Described][] =>
  Object.entries(fields).flatMap(([name, field]) => [[name, field], ...fieldsOf(field.fields ?? {})]);
const everyField = all.flatMap(({ inputs, outputs }) => [...fieldsOf(inputs), ...fieldsOf(outputs)]);
const SHORT = new Set(['a', 'at', 'be', 'by', 'in', 'it', 'no', 'of', 'on', 'to', '°C', 'mm', 'µm']);

it('every field of every calculation is named in words', () => {
  const names = [...new Set(everyField.map(([name]) => name))];
  expect(names.length).toBeGreaterThan(250);
  const cryptic = names.filter((name) =>
    toFieldTitle(t, name)
      .split(' ')
      .some((word) => !/^[a-z-]{3,}$/i.test(word) && !SHORT.has(word) && !/^\d+$/.test(word)),
  );
  expect(cryptic).toEqual([]);
});

it('a path is said as the page shows it', () => {
  expect(toPathTitle(t, 'parts[0].rating')).toBe('components 1, rating');
  expect(toPathTitle(t, 'supplyLine.innerDiameter')).toBe('supply line, inner diameter');
});

describe('the groups of inputs', () => {
  const groupsOf = (id: string) => {
    const found = all.find((one) => one.id === id);
    if (found === undefined) throw new Error(`no ${id}`);
    return groupInputs(found).map(({ code, names }) => [code, names]);
  };

  it('are what is needed, of what one is needed, and what may be left out', () => {
    expect(groupsOf('cylinder-force')).toEqual([
      ['needed', ['bore', 'rod', 'pressure']],
      ['optional', ['backPressure', 'efficiency']],
    ]);
    expect(groupsOf('gauge-error')).toEqual([
      ['needed', ['span']],
      ['one', ['accuracyClass', 'grade', 'reading']],
      ['optional', ['temperature']],
    ]);
  });

  it('hold each input of every calculation once', () => {
    for (const calculation of all) {
      const names = groupInputs(calculation).flatMap((group) => group.names);
      expect([calculation.id, [...names].sort()]).toEqual([calculation.id, Object.keys(calculation.inputs).sort()]);
    }
  });
});

describe('why inputs are refused', () => {
  const refusals = (description: CalculationDescription, inputs: unknown): string[] => {
    const { problems = [] } = findCalculation(description.id)?.run(inputs, {}) ?? {};
    return problems.map((problem) =>
      toRefusalText(
        t,
        problem,
        toPathTitle(t, problem.field),
        fieldsOf(description.inputs).map(([name]) => name),
      ),
    );
  };

  it('is said in the words of the fields: no name of a program is in it', () => {
    let count = 0;
    for (const description of all) {
      // Everything at once, and nothing at all: what contradicts, and what is missing.
      const everything = Object.fromEntries(
        Object.entries(description.inputs).map(([name, { type, kind, units, words }]) => [
          name,
          kind !== undefined && type === 'quantity' ? { value: 0, unit: units?.[0] } : (words?.[0] ?? 7),
        ]),
      );
      for (const text of [...refusals(description, everything), ...refusals(description, {})]) {
        count += 1;
        expect([description.id, text]).toEqual([
          description.id,
          expect.not.stringMatching(/[a-z][A-Z]|\[\d+\]|\w\.\w/),
        ]);
      }
    }
    expect(count).toBeGreaterThan(100);
  });

  it('of alternatives says which there are', () => {
    const gauge = all.find(({ id }) => id === 'gauge-error');
    expect(
      gauge === undefined
        ? []
        : refusals(gauge, {
            accuracyClass: 1.6,
            grade: 'A',
            reading: { value: 1, unit: 'bar' },
            span: { value: 2, unit: 'bar' },
          }),
    ).toEqual(['Give one only: accuracy class, or grade with reading']);
  });

  it('names both sides of a contradiction', () => {
    expect(sayFields(t, 'one only: rakeAngle, or referenceRake', ['rakeAngle', 'referenceRake'])).toBe(
      'one only: rake angle, or reference rake',
    );
    // A word of the language that is also a field's name stays as it is.
    expect(sayFields(t, 'a finite number', ['number'])).toBe('a finite number');
  });
});

it('every symbol is typeset: letters with what stands below them, Greek ones as such', () => {
  const symbols = [...new Set(everyField.flatMap(([, { symbol }]) => (symbol === undefined ? [] : [symbol])))];
  expect(symbols.length).toBeGreaterThan(100);
  for (const symbol of symbols) {
    const shown = renderToStaticMarkup(<Symbol text={symbol} />);
    expect([symbol, shown]).toEqual([symbol, expect.stringContaining('<math')]);
    const text = shown.replaceAll(/<[^>]*>/g, ' ');
    expect([symbol, text]).toEqual([
      symbol,
      expect.not.stringMatching(
        /_|\b(alpha|beta|gamma|delta|eps|eta|theta|kappa|lambda|mu|nu|phi|pi|rho|sigma|tau|omega|dp|dT|dV)\b/,
      ),
    ]);
  }
});

it('a result is shown with no more digits than it was asked for', () => {
  const result = { extendForce: { value: 12345.678, unit: 'N' }, areaRatio: 1.2345, notes: [] };
  const shown = renderToStaticMarkup(
    <SearchParamsContext value={new URLSearchParams()}>
      <LocaleProvider initial="en">
        <CalculationResult result={result} outputs={{}} digits={3} />
      </LocaleProvider>
    </SearchParamsContext>,
  ).replaceAll(/<[^>]*>/g, ' ');
  expect(shown).toMatch(/Extend force\s+12300\s+N\s+Area ratio\s+1\.23\s/);
});
