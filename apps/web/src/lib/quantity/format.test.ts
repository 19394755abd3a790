import {
  getPlacesApart,
  PASCAL_PER_UNIT,
  PRESSURE_UNITS,
  toConvertedText,
  toPressureText,
  toTypedText,
} from './format';

const BAR = PASCAL_PER_UNIT.bar;

describe('pressures as they are read', () => {
  it('rounds by their accuracy: a tolerance always shows', () => {
    expect(toPressureText(178 * BAR, 'bar', { halfWidthPa: 5 * BAR })).toEqual({ number: '178', tolerance: '5' });
    expect(toPressureText(178 * BAR, 'bar', { halfWidthPa: 0.4 * BAR })).toEqual({ number: '178.0', tolerance: '0.4' });
    expect(toPressureText(178 * BAR, 'MPa', { halfWidthPa: 5 * BAR })).toEqual({ number: '17.8', tolerance: '0.5' });
  });

  it('shows two that differ as different, where a tenth of a unit or less tells them apart', () => {
    const places = getPlacesApart(160.1 * BAR, 160 * BAR, 'bar');
    expect(toPressureText(160.1 * BAR, 'bar', { places }).number).toBe('160.1');
    expect(toPressureText(160 * BAR, 'bar', { places }).number).toBe('160.0');
    expect(getPlacesApart(118 * BAR, 138 * BAR, 'bar')).toBe(0);
  });

  it('never shows minus nought', () => {
    expect(toPressureText(-0.01 * BAR, 'bar').number).toBe('0');
    expect(toPressureText(-12 * BAR, 'bar').number).toBe('−12');
  });
});

describe('quantities as they were typed', () => {
  it('come back digit for digit in their own unit', () => {
    for (const unit of PRESSURE_UNITS) {
      for (const digits of [0, 1, 2, 3]) {
        for (let whole = 0; whole < 100_000; whole += 97) {
          const text = (whole / 10 ** digits).toFixed(digits);
          const typed = { value: Number(text), unit, digits };
          expect(toTypedText(typed).number).toBe(text);
          expect(toConvertedText(typed, 'pressure', unit).number).toBe(text);
        }
      }
    }
  });

  it('keep their significant digits in another unit, three at least', () => {
    expect(toConvertedText({ value: 3000, unit: '[psi]', digits: 0 }, 'pressure', 'bar')).toEqual({
      number: '206.8',
      unit: 'bar',
    });
    expect(toConvertedText({ value: 5, unit: 'bar', digits: 0 }, 'pressure', '[psi]')).toEqual({
      number: '72.5',
      unit: 'psi',
    });
  });
});
