import { SI_ENDINGS } from '@repo/calc/figures';
import { toSi, type QuantityKind } from '@repo/quantity';
import { findUnitOfName } from './si-value';

describe('the everyday unit of a figure by the end of its name', () => {
  const kinds = Object.entries(SI_ENDINGS).filter(([, ending]) => ending !== 'Pa') as [QuantityKind, string][];
  it.each(kinds)('is one of its kind: %s', (kind, ending) => {
    const name = kind === 'temperature' ? `coldOilTemperature${ending}` : `some${ending}`;
    const unit = findUnitOfName(name);
    if (unit === undefined) throw new Error(`${name} has no unit`);
    expect(() => toSi(1, unit, kind)).not.toThrow();
  });

  it('tells a temperature from a difference, and knows none of a plain number', () => {
    expect(findUnitOfName('workingOilTemperatureK')).toBe('Cel');
    expect(findUnitOfName('trappedTemperatureRiseK')).toBe('K');
    expect(findUnitOfName('oilAirFraction')).toBeUndefined();
  });
});
