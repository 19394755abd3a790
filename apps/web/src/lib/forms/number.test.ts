import { MACHINE_FIGURES, POWER_UNIT_FIGURES, type Figures } from '@repo/calc/figures';
import { number, unitOfNumber } from './number';

const label = 'form.problem' as const;

describe('a plain number', () => {
  it.each([
    ['V', '24 V', 24],
    ['V', '24', 24],
    ['W', '0,12 kW', 120],
    ['A', '4A', 4],
    ['h', '2 d', 48],
    ['min', '2 h', 120],
    ['share', '25 %', 0.25],
    ['share', '0,25', 0.25],
    ['per-cent', '5 %', 5],
    ['per-cent', '5', 5],
  ] as const)('in %s is read of "%s"', (typedIn, typed, value) => {
    expect(number({ label, typedIn }).read(typed)).toEqual({ ok: true, value });
  });

  it.each([
    ['V', '24 bar'],
    ['share', '25 V'],
    ['h', 'soon'],
  ] as const)('in %s is not read of "%s"', (typedIn, typed) => {
    expect(number({ label, typedIn }).read(typed).ok).toBe(false);
  });

  it('is held to its bounds in its own unit', () => {
    expect(number({ label, typedIn: 'share', most: 1 }).read('120 %').ok).toBe(false);
  });

  it('has the unit that the name of its figure ends with', () => {
    const all: Figures = { ...MACHINE_FIGURES, ...POWER_UNIT_FIGURES };
    const units = Object.fromEntries(
      Object.entries(all).flatMap(([name, { type }]) => (type === 'number' ? [[name, unitOfNumber(name)]] : [])),
    );
    expect(units).toMatchObject({
      supplyVoltageV: 'V',
      supplyRatingW: 'W',
      supplyReserveRatio: 'share',
      oilAirFraction: 'share',
      madeYear: undefined,
      spareInputs: undefined,
    });
  });
});
