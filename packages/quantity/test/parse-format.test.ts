import fc from 'fast-check';
import {
  formatQuantity,
  fromSi,
  getKindInfo,
  isQuantityKind,
  parseQuantity,
  QUANTITY_KINDS,
  toSi,
  type QuantityKind,
} from '../src/index.js';

const KINDS = Object.keys(QUANTITY_KINDS).filter(isQuantityKind);
const read = (text: string, kind: QuantityKind, more: { decimalComma?: boolean; defaultUnit?: string } = {}) => {
  const answer = parseQuantity(text, { kind, ...more });
  return answer.ok ? [answer.quantity.value, answer.quantity.unit, answer.quantity.digits] : answer.problem.code;
};

describe('what people type', () => {
  test.each([
    ['210 bar', 'pressure', [210, 'bar', 3]],
    ['210bar', 'pressure', [210, 'bar', 3]],
    ['210.0 Bar', 'pressure', [210, 'bar', 4]],
    ['3000 psi', 'pressure', [3000, '[psi]', 4]],
    ['3000 PSI', 'pressure', [3000, '[psi]', 4]],
    ['3000 [psi]', 'pressure', [3000, '[psi]', 4]],
    ['21 MPa', 'pressure', [21, 'MPa', 2]],
    ['21 mpa', 'pressure', [21, 'MPa', 2]],
    ['1 N/mm²', 'pressure', [1, 'MPa', 1]],
    ['1/2 in', 'length', 'unit-not-understood'],
    ['1.5"', 'length', [1.5, '[in_i]', 2]],
    ['1.5 ft', 'length', [1.5, '[ft_i]', 2]],
    ['40 mm', 'length', [40, 'mm', 2]],
    ['1,5 mm', 'length', [1.5, 'mm', 2]],
    ['0.040 m', 'length', [0.04, 'm', 2]],
    ['7 lpm', 'flow', [7, 'L/min', 1]],
    ['7 l / min', 'flow', [7, 'L/min', 1]],
    ['2 GPM', 'flow', [2, '[gal_us]/min', 1]],
    ['20 °C', 'temperature', [20, 'Cel', 2]],
    ['68 F', 'temperature', [68, '[degF]', 2]],
    ['−5 °C', 'temperature', [-5, 'Cel', 1]],
    ['-5°C', 'temperature', [-5, 'Cel', 1]],
    ['20 °C', 'temperature-difference', 'unit-not-understood'],
    ['10 lb', 'force', [10, '[lbf_av]', 2]],
    ['10 lb', 'mass', [10, '[lb_av]', 2]],
    ['12 N m', 'torque', [12, 'N.m', 2]],
    ['3000 rpm', 'frequency', [3000, '1/min', 4]],
    ['25 rpm', 'angular-speed', [25, 'circ/min', 2]],
    ['25 1/min', 'angular-speed', [25, 'circ/min', 2]],
    ['90 °/s', 'angular-speed', [90, 'deg/s', 2]],
    ['1.5 rad/s', 'angular-speed', [1.5, 'rad/s', 2]],
    ['25 Hz', 'angular-speed', 'unit-not-understood'],
    ['300 deg/s²', 'angular-acceleration', [300, 'deg/s2', 3]],
    ['5 rad/s2', 'angular-acceleration', [5, 'rad/s2', 1]],
    ['1e3 Hz', 'frequency', [1000, 'Hz', 1]],
    ['1e−3 s', 'time', [0.001, 's', 1]],
    ['4.7 kΩ', 'resistance', [4.7, 'kOhm', 2]],
    ['45°', 'angle', [45, 'deg', 2]],
    ['0.00 bar', 'pressure', [0, 'bar', 3]],
    ['-0 bar', 'pressure', [0, 'bar', 1]],
    ['.5 bar', 'pressure', [0.5, 'bar', 1]],
    ['5. bar', 'pressure', [5, 'bar', 1]],
    ['12 %', 'ratio', [12, '%', 2]],
    ['0.12', 'ratio', [0.12, '1', 2]],
    ['12', 'pressure', 'unit-missing'],
    ['12 mm', 'pressure', 'unit-not-understood'],
    ['', 'pressure', 'empty'],
    ['  ', 'pressure', 'empty'],
    ['bar', 'pressure', 'not-a-number'],
    ['abc', 'ratio', 'not-a-number'],
    ['1e999 bar', 'pressure', 'too-large'],
    ['12 34 bar', 'pressure', 'unit-not-understood'],
    ['12 34', 'ratio', 'unit-not-understood'],
    ['1.2 345 bar', 'pressure', 'not-a-number'],
    ['5 1/min', 'frequency', [5, '1/min', 1]],
    ['5 kPa', 'pressure', [5, 'kPa', 1]],
    ['5 hPa', 'pressure', [5, 'hPa', 1]],
    ['5 KPA', 'pressure', [5, 'kPa', 1]],
    ['100 400/min', 'frequency', 'unit-not-understood'],
    ['1.2.3 bar', 'pressure', 'not-a-number'],
    ['1,234 bar', 'pressure', 'ambiguous-number'],
    ['0,234 bar', 'pressure', [0.234, 'bar', 3]],
    ['1,234.5 bar', 'pressure', [1234.5, 'bar', 5]],
    ['1.234,5 bar', 'pressure', [1234.5, 'bar', 5]],
    ['1,234,567 Pa', 'pressure', [1234567, 'Pa', 7]],
    ['1,2,3 bar', 'pressure', 'not-a-number'],
    ["1'234.5 bar", 'pressure', [1234.5, 'bar', 5]],
    ['1 234,5 bar', 'pressure', [1234.5, 'bar', 5]],
    ['1 234,567 bar', 'pressure', [1234.567, 'bar', 7]],
  ] as const)('%j as %s', (text, kind, expected) => expect(read(text, kind)).toEqual(expected));

  test('the decimal sign asked for is kept to', () => {
    expect(read('1 234,5 bar', 'pressure', { decimalComma: true })).toEqual([1234.5, 'bar', 5]);
    expect(read('1,234 bar', 'pressure', { decimalComma: true })).toEqual([1.234, 'bar', 4]);
    expect(read('1,234 bar', 'pressure', { decimalComma: false })).toEqual([1234, 'bar', 4]);
    expect(read('1.234 bar', 'pressure', { decimalComma: true })).toEqual([1234, 'bar', 4]);
    expect(read('1.5 bar', 'pressure', { decimalComma: true })).toBe('not-a-number');
    expect(read('1,5 bar', 'pressure', { decimalComma: false })).toBe('not-a-number');
    expect(read('1,5,5 bar', 'pressure', { decimalComma: true })).toBe('not-a-number');
    expect(read('1,5.5 bar', 'pressure', { decimalComma: true })).toBe('not-a-number');
    expect(read(',5 bar', 'pressure', { decimalComma: true })).toEqual([0.5, 'bar', 1]);
  });

  test('a bare number takes the unit beside the field', () => {
    expect(read('210', 'pressure', { defaultUnit: 'bar' })).toEqual([210, 'bar', 3]);
  });

  test('a problem tells what was got and which units are meant', () => {
    expect(parseQuantity('12 mm', { kind: 'pressure' })).toEqual({
      ok: false,
      problem: { code: 'unit-not-understood', got: '12 mm', needs: 'a unit (bar, psi, MPa)' },
    });
  });

  test('any text is answered, never thrown at', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'binary' }), fc.constantFrom(...KINDS), (text, kind) => {
        const answer = parseQuantity(text, { kind });
        return !answer.ok || Number.isFinite(answer.quantity.value);
      }),
    );
  });
});

describe('what is shown', () => {
  test.each([
    [21e6, 'bar', { digits: 3 }, '210', 'bar'],
    [21e6, '[psi]', { digits: 4 }, '3046', 'psi'],
    [21e6, '[psi]', { digits: 2 }, '3000', 'psi'],
    [21e6, 'MPa', { digits: 4 }, '21.00', 'MPa'],
    [21e6, 'MPa', {}, '21.00', 'MPa'],
    [9.996e6, 'bar', { digits: 3 }, '100', 'bar'],
    [17_523_456, 'bar', { accuracySi: 4e5 }, '175', 'bar'],
    [17_523_456, 'bar', { accuracySi: 4e4 }, '175.2', 'bar'],
    [17_523_456, '[psi]', { accuracySi: 4e5 }, '2540', 'psi'],
    [17_523_456, 'bar', { accuracySi: 0 }, '175.2', 'bar'],
    [-293, 'K', { digits: 3 }, '−293', 'K'],
    [0, 'bar', { digits: 2 }, '0.0', 'bar'],
    [-1, 'bar', { accuracySi: 1e5 }, '0', 'bar'],
    [0.5, 'deg', { digits: 4 }, '28.65', '°'],
    [0.5, 'deg', { accuracySi: 0.01 }, '28.6', '°'],
    [1.5e-4, 'kPa', { digits: 2, decimalSign: ',' }, '0,00000015', 'kPa'],
  ] as const)('%d in %s with %j', (si, unit, options, text, unitSymbol) => {
    expect(formatQuantity(si, unit, options)).toEqual({ text, unitSymbol });
  });

  test('refuses what cannot be printed', () => {
    expect(() => formatQuantity(Number.NaN, 'bar')).toThrow(RangeError);
    expect(() => formatQuantity(1, 'bar', { digits: 0 })).toThrow(RangeError);
    expect(() => formatQuantity(1, 'bar', { digits: 16 })).toThrow(RangeError);
    expect(() => formatQuantity(1, 'brr')).toThrow('unknown-unit');
  });
});

test('zero degrees are shown as zero, whatever was rounded on the way through kelvin', () => {
  for (const { unit } of getKindInfo('temperature').displayUnits) {
    for (const digits of [1, 2, 9]) {
      expect(fromSi(toSi(0, unit, 'temperature'), unit, 'temperature')).toBe(0);
      const { text } = formatQuantity(toSi(0, unit, 'temperature'), unit, { digits });
      expect([unit, text]).toEqual([unit, (0).toFixed(digits - 1)]);
    }
  }
  // A real difference from zero is kept.
  expect(fromSi(toSi(1e-9, '[degF]', 'temperature'), '[degF]', 'temperature')).toBeCloseTo(1e-9, 12);
});

test('typed, stored in SI and shown again is what was typed, in every display unit', () => {
  const typed = fc.constantFrom(...KINDS).chain((kind: QuantityKind) =>
    fc.record({
      kind: fc.constant(kind),
      display: fc.constantFrom(...getKindInfo(kind).displayUnits),
      digits: fc.integer({ min: 1, max: kind === 'temperature' ? 9 : 12 }),
      value: fc.integer({ min: 0, max: 999_999_999 }),
      places: fc.integer({ min: 0, max: 6 }),
    }),
  );
  fc.assert(
    fc.property(typed, ({ kind, display, value, places }) => {
      const text = (value / 10 ** places).toFixed(places);
      const answer = parseQuantity(`${text} ${display.symbol}`, { kind });
      if (!answer.ok) throw new Error(JSON.stringify(answer.problem));
      const { unit, digits } = answer.quantity;
      const shown = formatQuantity(toSi(answer.quantity.value, unit, kind), unit, { digits });
      expect([unit, shown]).toEqual([display.unit, { text, unitSymbol: display.symbol }]);
    }),
    { numRuns: 3000 },
  );
});
