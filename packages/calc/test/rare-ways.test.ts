import { driftCrossing } from '../src/counts/drift-crossing.js';
import { frictionFactor } from '../src/lines/friction-factor.js';
import { calculate, describeCalculation, findCalculation } from '../src/registry/registry.js';

describe('where the ways part', () => {
  test('an even number of ranks below is kept when the middle lies between two', () => {
    // All values alike: no variance, so the ranks are those of half the number of slopes, 5/2 rounded to 2.
    const series = [1, 1, 2, 3].map((time) => ({ time, value: 7 }));
    expect(driftCrossing({ series, threshold: 1, confidence: 0.95 })).toMatchObject({
      slopeLower: 0,
      slopeUpper: 0,
      drifting: false,
    });
  });

  test('Colebrook–White far below its range still solves its own equation, and says that it is outside', () => {
    const { frictionFactor: f, notes } = frictionFactor({ reynolds: 0.01, relativeRoughness: 0, method: 'colebrook' });
    expect(1 / Math.sqrt(f) + 2 * Math.log10(2.51 / (0.01 * Math.sqrt(f)))).toBeCloseTo(0, 12);
    expect(notes.map(({ code }) => code)).toContain('reynolds-outside-method');
  });

  test('one bad number in a list is refused, not the list shortened', () => {
    const { problem } = calculate('gauge-choice', {
      working: { value: 150, unit: 'bar' },
      highest: { value: 200, unit: 'bar' },
      spans: { value: [160, 'x', 400], unit: 'bar' },
    });
    expect(problem).toMatchObject({ field: 'spans', code: 'not-a-number' });
  });

  test('a contact that is not reached is null over the wire, and full from the start costs no oil', () => {
    const inputs = {
      pump: { freeFlow: { value: 1.2, unit: 'L/min' }, stallPressure: { value: 200, unit: 'bar' } },
      supplyResistance: { value: 2, unit: 'bar.min/L' },
      returnResistance: { value: 1, unit: 'bar.min/L' },
      lineVolume: { value: 300, unit: 'mL' },
      oil: { bulkModulus: { value: 1500, unit: 'MPa' }, airFraction: 0.005 },
      cylinders: [
        {
          count: 2,
          bore: { value: 25, unit: 'mm' },
          rod: { value: 12, unit: 'mm' },
          stroke: { value: 12, unit: 'mm' },
          friction: { value: 1000, unit: 'kN' },
          viscousFriction: { value: 400, unit: 'N.s/m' },
          contactStiffness: { value: 40, unit: 'MN/m' },
        },
      ],
      switchRising: { value: 250, unit: 'bar' },
    };
    expect(calculate('clamp-sequence', inputs).result).toMatchObject({ contacts: { value: [null], unit: 's' } });
    const [group] = inputs.cylinders;
    const full = {
      ...inputs,
      cylinders: [{ ...group, stroke: { value: 0, unit: 'mm' }, friction: { value: 0, unit: 'N' } }],
      startPressure: { value: 199, unit: 'bar' },
    };
    expect(calculate('clamp-sequence', full).result).toMatchObject({
      timeToContact: { value: 0 },
      timeTo95: { value: 0 },
      timeToSwitch: null,
      oilVolume: { value: 0 },
    });
  });

  test('an entry without a docstring is not described half', () => {
    const entry = findCalculation('switch-window');
    if (!entry) throw new Error('not registered');
    expect(() => describeCalculation({ ...entry, id: 'nameless' })).toThrow('no docstring for nameless');
  });
});
