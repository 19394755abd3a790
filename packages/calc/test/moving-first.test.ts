import type { CircuitFacts, FixtureElementFacts } from '../src/circuit-facts/circuit-facts.types.js';
import { actuate } from '../src/circuit-checks/actuation.js';
import { toMovementInput } from '../src/circuit-facts/movement-input.js';
import { aCircuit, aControl, aFixture, aNeighbour, ELEMENT } from './facts-builder.js';
import { checkOf } from './facts-checks.js';

const unread = { ...aCircuit().settings, readings: null };
/** Eight cylinders of 50 mm bore, 25 mm rod and 30 mm stroke that move at next to nothing: 8 x 58.9 mL = 471 mL. */
const LARGE: FixtureElementFacts = {
  ...ELEMENT,
  ...{ id: 'large', name: 'Large', quantity: 8, form: 'lever-clamp', pulls: false },
  ...{ boreM: 0.05, rodM: 0.025, strokeM: 0.03, frictionN: 40 },
};
const ofOneStation = (element: Partial<FixtureElementFacts> = {}, change: Partial<CircuitFacts> = {}): CircuitFacts => {
  const control = aControl();
  const stationId = 'station of circuit';
  return aCircuit({
    settings: unread,
    neighbours: [aNeighbour({ fixture: aFixture({ id: 'f2', elements: [{ ...LARGE, ...element }] }) })],
    control: { ...control, circuits: control.circuits.map((one) => ({ ...one, stationId })) },
    ...change,
  });
};
function timeOf(facts: CircuitFacts, code: 'clamping-time' | 'unclamping'): number {
  const { cold, unclampColdS } = actuate(toMovementInput(facts).actuation);
  const timeS = code === 'unclamping' ? unclampColdS : cold?.timeToSwitchS;
  return timeS === 'never' ? Infinity : Number(timeS);
}
const firstOf = (facts: CircuitFacts) => toMovementInput(facts).actuation.movingFirst;

describe('circuits that move by one code', () => {
  it('wait for one that moves more easily, to which all the oil goes first: 471 mL of 53.3 mL/s are 8.8 s', () => {
    const alone = aCircuit({ settings: unread });
    for (const code of ['clamping-time', 'unclamping'] as const) {
      // With the lowest air the pump gives what it does: its air is set lower than that.
      expect(timeOf(ofOneStation(), code) - timeOf(alone, code)).toBeGreaterThan(8.8);
      expect(timeOf(ofOneStation(), code) - timeOf(alone, code)).toBeLessThan(1.2 * 8.8);
      expect(checkOf(ofOneStation(), code)?.status).toBe('fails');
    }
    expect(firstOf(alone)).toBeUndefined();
  });

  it('never move while one takes all that the pump gives and does not move, or takes too long', () => {
    const stuck = ofOneStation({ frictionN: 1e6 });
    expect(checkOf(stuck, 'clamping-time')).toMatchObject({ status: 'fails' });
    expect(checkOf(ofOneStation({ quantity: 900 }), 'unclamping')).toMatchObject({ status: 'fails' });
    expect(timeOf(stuck, 'clamping-time')).toBe(Infinity);
  });

  it('move at what their friction, their springs and what stands behind them ask for', () => {
    const area = (Math.PI * 0.05 ** 2) / 4;
    const annulus = area - (Math.PI * 0.025 ** 2) / 4;
    // 40 N of friction, and 2 bar behind the other side.
    expect(firstOf(ofOneStation())?.[0]?.movesAtPa).toBeCloseTo((40 + 2e5 * annulus) / area, 3);
    expect(firstOf(ofOneStation({ pulls: true }))?.[0]?.movesAtPa).toBeCloseTo((40 + 2e5 * area) / annulus, 3);
    const sprung = { acting: 'single' as const, springForceAtContactN: 300, rodM: null };
    expect(firstOf(ofOneStation(sprung))?.[0]?.movesAtPa).toBeCloseTo(340 / area, 3);
  });

  it('ask for what nobody knows of it', () => {
    const facts = ofOneStation({ strokeM: null, frictionN: null });
    expect(firstOf(facts)?.[0]).toMatchObject({ volumeM3: null, movesAtPa: null });
    expect(checkOf(facts, 'clamping-time')?.status).toBe('unproven');
    const { springForceAtContactN: _, ...unsaid } = { ...LARGE, acting: 'single' as const };
    expect(firstOf(ofOneStation({ ...unsaid, springForceAtContactN: null }))?.[0]?.movesAtPa).toBeNull();
  });
});
