import ucum from '@lhncbc/ucum-lhc';
import fc from 'fast-check';
import {
  checkUnit,
  convert,
  findUnit,
  fromSi,
  getKindInfo,
  isCommensurable,
  isQuantityKind,
  QUANTITY_KINDS,
  toSi,
  toUnitSymbol,
  UNIT_ATOMS,
  UNIT_PREFIXES,
  UnitError,
  type QuantityKind,
} from '../src/index.js';
import { decimal } from '../src/rational.js';

const reference = ucum.UcumLhcUtils.getInstance();
const KINDS = Object.keys(QUANTITY_KINDS).filter(isQuantityKind);

/** SI partner of every dimension, spelled for the independent library. */
function siCode(code: string): string {
  const unit = findUnit(code);
  if (!unit) throw new Error(code);
  const names = ['m', 'kg', 's', 'K', 'A', 'rad'];
  const parts = unit.dimension.flatMap((exponent, index) => (exponent === 0 ? [] : [`${names[index]}${exponent}`]));
  return parts.length === 0 ? '1' : parts.join('.');
}

function expectSameAsReference(code: string): void {
  for (const value of [1, -3.5, 212, 1e-3]) {
    const answer = reference.convertUnitTo(code, value, siCode(code));
    if (answer.status !== 'succeeded') throw new Error(`${code} → ${siCode(code)}: ${answer.msg.join(' ')}`);
    const inSi = convert(value, code, siCode(code));
    expect([code, Math.abs(inSi - answer.toVal) <= 1e-12 * Math.max(Math.abs(answer.toVal), Math.abs(inSi))]).toEqual([
      code,
      true,
    ]);
  }
}

describe('unit codes against an independent UCUM library', () => {
  // "[degR]", Q, R, r, q are newer than that library's tables; they are checked by hand below.
  const NEWER = new Set(['Q', 'R', 'r', 'q']);

  test.each([...UNIT_ATOMS.keys()].filter((code) => !['10*', '10^'].includes(code)))('%s', (code) => {
    expectSameAsReference(code);
  });

  test('every prefix', () => {
    for (const prefix of UNIT_PREFIXES.keys()) if (!NEWER.has(prefix)) expectSameAsReference(`${prefix}m`);
    expect(convert(1, 'Qm', 'm')).toBe(1e30);
    expect(convert(1, 'Rm', 'm')).toBe(1e27);
    expect(convert(1, 'm', 'rm')).toBe(1e27);
    expect(convert(1, 'm', 'qm')).toBe(1e30);
  });

  test('every display unit of every kind', () => {
    for (const kind of KINDS) for (const { unit } of getKindInfo(kind).displayUnits) expectSameAsReference(unit);
  });

  test.each([
    'L/min', 'bar.min/L', 'mm2/s', 'cSt', '/min', '1/mL', 'N/cm2', '[gal_us]/min', 'kW.s/cm3', '[HP].min/[in_i]3',
    'kg.m/s2', 'm.s-2', '(kg.m)/(s2.A)', 'N.s/m', 'W/(m.K)', 'Ohm/km', '10*3.Pa', '10*-6', 'L/min{free_air}', 'm/(s.min)', '2.m',
    '[lbf_av].[ft_i]', 'mbar/s', 's/d', '60.s',
  ])('%s', (code) => expectSameAsReference(code)); // prettier-ignore
});

describe('unit grammar', () => {
  test.each(['', ' bar', 'bar ', 'Bar', 'bra', 'mmin', 'kmin', 'm//s', 'm.', '.m', 'm/', '(m', 'm)', '()', '((m))', '(m.(s))', '((((((((((m))))))))))', 'm^2', 'mm²',
    '0', '0.m', 'Cel2', '1/Cel', 'Cel.m', 'mCel', '[degF]/min', 'm31', 'm-99', '[psi', 'k[psi]', 'x'.repeat(81), '{', '{°}', 'L{free air}', 'NaN', '1e3',
    'constructor', '__proto__', 'toString'])('refuses %j', (code) => expect(findUnit(code)).toBeNull()); // prettier-ignore

  test('table entries are written exactly', () => expect(() => decimal('1,5')).toThrow(RangeError));

  test('an exponent chain too large for a number is refused', () => {
    expect(findUnit('Qm30.Qm30')).toBeNull();
    expect(findUnit('qm30.qm30')).toBeNull();
  });

  test('survives any text', () => {
    fc.assert(fc.property(fc.string({ unit: 'binary', maxLength: 100 }), (text) => {
      const unit = findUnit(text);
      return unit === null || (unit.num > 0 && unit.den > 0);
    })); // prettier-ignore
    fc.assert(
      fc.property(
        fc.array(fc.constantFrom('m', 'bar', '.', '/', '(', ')', '2', '-1', '[psi]', 'k', '{x}', '10*'), {
          maxLength: 12,
        }),
        (parts) => {
          const unit = findUnit(parts.join(''));
          return unit === null || (Number.isFinite(unit.num) && Number.isFinite(unit.den));
        },
      ),
    );
  });

  test('the cache is bounded and forgets nothing wrong', () => {
    for (let i = 1; i < 1500; i += 1) expect(findUnit(`${i}.m`)?.num).toBe(i);
    expect(findUnit('7.m')?.num).toBe(7);
  });
});

describe('conversion', () => {
  test('pressures', () => {
    expect(toSi(210, 'bar', 'pressure')).toBe(21_000_000);
    expect(toSi(3000, '[psi]', 'pressure')).toBeCloseTo(20_684_271.8795, 3);
    expect(fromSi(21_000_000, 'MPa', 'pressure')).toBe(21);
    expect(toSi(175, 'mm', 'length')).toBe(0.175);
  });

  test('a turn is 360 degrees, and 2π rad', () => {
    expect(toSi(30, 'circ/min', 'angular-speed')).toBeCloseTo(Math.PI, 12);
    expect(toSi(180, 'deg/s', 'angular-speed')).toBeCloseTo(Math.PI, 12);
    expect(toSi(180, 'deg/s2', 'angular-acceleration')).toBeCloseTo(Math.PI, 12);
    expect(checkUnit('1/min', 'angular-speed')).toBe('wrong-kind');
  });

  test('temperatures are points, differences are not', () => {
    expect(toSi(20, 'Cel', 'temperature')).toBe(293.15);
    expect(toSi(68, '[degF]', 'temperature')).toBeCloseTo(293.15, 10);
    expect(fromSi(293.15, '[degF]', 'temperature')).toBeCloseTo(68, 10);
    expect(toSi(293.15, 'K', 'temperature')).toBe(293.15);
    expect(() => toSi(20, 'Cel', 'temperature-difference')).toThrow(UnitError);
    expect(checkUnit('[degF]', 'temperature-difference')).toBe('temperature-point');
    expect(checkUnit('K', 'temperature-difference')).toBeNull();
    expect(convert(100, 'Cel', '[degF]')).toBeCloseTo(212, 10);
  });

  test('refuses unknown and other kinds', () => {
    expect(checkUnit('mm', 'pressure')).toBe('wrong-kind');
    expect(checkUnit('brr', 'pressure')).toBe('unknown-unit');
    expect(() => convert(1, 'xx', 'm')).toThrow('unknown-unit');
    expect(() => convert(1, 'm', 'xx')).toThrow('unknown-unit');
    expect(() => convert(1, 'm', 's')).toThrow('wrong-kind');
    expect(isCommensurable('bar', 'N/mm2')).toBe(true);
    expect(isCommensurable('bar', 'N')).toBe(false);
    expect(isCommensurable('bar', '?')).toBe(false);
    expect(isCommensurable('?', 'bar')).toBe(false);
  });

  test('every display unit belongs to its kind and carries a symbol', () => {
    for (const kind of KINDS) {
      for (const { unit } of getKindInfo(kind).displayUnits) {
        expect([unit, checkUnit(unit, kind)]).toEqual([unit, null]);
        expect(toUnitSymbol(unit)).not.toMatch(/[[\]]/);
      }
      expect(findUnit(getKindInfo(kind).siUnit)).toMatchObject({ num: 1, den: 1, irrational: 1, offset: null });
    }
    expect(toUnitSymbol('kPa')).toBe('kPa');
    expect(isQuantityKind('toString')).toBe(false);
  });

  test('to SI and back gives the same to fifteen digits', () => {
    const unitOfKind = fc
      .constantFrom(...KINDS)
      .chain((kind: QuantityKind) =>
        fc.constantFrom(...getKindInfo(kind).displayUnits).map(({ unit }) => ({ kind, unit })),
      );
    fc.assert(
      fc.property(unitOfKind, fc.double({ min: 1e-9, max: 1e9, noNaN: true }), ({ kind, unit }, value) => {
        const back = fromSi(toSi(value, unit, kind), unit, kind);
        return Math.abs(back - value) <= 5e-16 * Math.abs(value) + (kind === 'temperature' ? 2e-13 * 1e9 : 0);
      }),
      { numRuns: 2000 },
    );
  });
});
