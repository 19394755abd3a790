import { checkUnit } from '@repo/quantity';
import { isRecord, quantity, type InputField, type NumberRules } from './input-fields.js';

/** A power or a current: which one the unit says. */
export function powerOrCurrent(rules: {
  power: NumberRules;
  current: NumberRules;
}): InputField<{ powerW: number } | { currentA: number }, ''> {
  const asPower = quantity('power', rules.power);
  const asCurrent = quantity('current', rules.current);
  return {
    suffix: '',
    optional: false,
    read(raw, path, reading) {
      const unit = isRecord(raw) ? raw.unit : undefined;
      if (typeof unit === 'string' && checkUnit(unit, 'current') === null) {
        const currentA = asCurrent.read(raw, path, reading);
        return currentA === undefined ? undefined : { currentA };
      }
      if (typeof unit === 'string' && checkUnit(unit, 'power') === 'wrong-kind') {
        return reading.refuse(path, raw, 'wrong-kind', 'a power in W, or a current in A');
      }
      const powerW = asPower.read(raw, path, reading);
      return powerW === undefined ? undefined : { powerW };
    },
    describe: () => ({ type: 'quantity', kind: 'power', units: ['W', 'A'], signed: false, zero: true }),
  };
}
