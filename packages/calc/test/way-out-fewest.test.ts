import type { CircuitFacts } from '../src/circuit-facts/circuit-facts.types.js';
import { proveFacts } from '../src/circuit-facts/prove-facts.js';
import { applyChange } from '../src/way-out/apply-change.js';
import { Fewest } from '../src/way-out/fewest.js';
import { findWayOut } from '../src/way-out/find-way-out.js';
import { isBad, Prover } from '../src/way-out/prover.js';
import { listSettingLevers } from '../src/way-out/setting-levers.js';
import { aCircuit, aFixture, aRandomCircuit, ELEMENT } from './facts-builder.js';

const lookAt = (facts: CircuitFacts): Fewest =>
  new Fewest(new Prover(), facts, listSettingLevers(facts), (checks) => !checks.some(isBad));

/** A control that unclamps at a reset. */
function withReset(change: Partial<CircuitFacts> = {}): CircuitFacts {
  const { machine, ...control } = aCircuit().control;
  const behaviour = { ...machine.behaviour, onReset: 'unclamp' as const };
  return aCircuit({ control: { ...control, machine: { ...machine, behaviour } }, ...change });
}
const lowRated = aFixture({ ratedPressurePa: 170e5, elements: [ELEMENT] });

describe('fewer changes', () => {
  it('one that does is found, be it a yes or a figure', () => {
    expect(lookAt(withReset()).findFewer(1, 2)).toMatchObject({
      ...{ changes: [{ code: 'reaction', choice: 'keep', lowest: null }], isFewest: true },
    });
    const { machine } = aCircuit().control;
    const facts = aCircuit({ control: { ...aCircuit().control, machine: { ...machine, supplyRatingW: 60 } } });
    const [change] = lookAt(facts).findOne() ?? [];
    expect(change).toMatchObject({ code: 'supply-power', from: 60 });
    expect(change?.lowest).toBe(change?.highest);
  });

  it('of two that are wrong and have nothing in common no one change does, and two do', () => {
    const fewest = lookAt(withReset({ fixture: lowRated }));
    expect(fewest.findOne()).toBeNull();
    expect(fewest.findLeast(9)).toBe(2);
    const { changes } = fewest.findTwo();
    expect(changes?.map(({ code }) => code)).toContain('reaction');
    expect(fewest.findTwo().changes).toEqual(changes);
    const made = changes?.reduce((facts, change) => applyChange(facts, change), withReset({ fixture: lowRated }));
    expect(made && proveFacts(made).checks.filter(isBad)).toEqual([]);
  });

  it('of three that have nothing in common no two do', () => {
    const { machine } = withReset().control;
    const control = { ...aCircuit().control, machine: { ...machine, supplyRatingW: 60 } };
    const fewest = lookAt(aCircuit({ control, fixture: lowRated }));
    expect(fewest.findLeast(9)).toBe(3);
    expect(fewest.findLeastApart()).toBe(2);
    expect(fewest.findFewer(1, 3)).toEqual({ changes: null, isFewest: true });
    expect(fewest.findFewer(1, 4)).toEqual({ changes: null, isFewest: false });
    expect(fewest.findFewer(1, 2)).toEqual({ changes: null, isFewest: true });
    expect(fewest.findFewer(3, 4)).toEqual({ changes: null, isFewest: false });
    // Asked for no further than that.
    expect(fewest.findLeast(2)).toBe(2);
  });
});

/** As if its reliefs opened exactly where they are set, its oil did not warm up, and no pump went on above its setting. */
const withExactReliefs = (facts: CircuitFacts): CircuitFacts => ({
  ...facts,
  circuit: { ...facts.circuit, trappedTemperatureRiseK: 0, hasReducingValve: true, reducingValveRelieves: true },
  components: facts.components.map(({ figures: { openingTolerance: _tolerance, ...figures }, ...one }) => ({
    ...one,
    figures,
  })),
});

/** Circuits of which one thing after the other leads to six changes, where two do. */
describe.each([[474, 2]])('random circuit %i', (seed, count) => {
  it('is told the fewest, and they do', () => {
    const facts = withExactReliefs(aRandomCircuit(seed));
    const { changes, isFewest, records } = findWayOut(facts);
    expect({ count: changes.length, isFewest }).toEqual({ count, isFewest: true });
    const { checks } = proveFacts(changes.reduce((made, change) => applyChange(made, change), facts));
    expect(checks.filter(isBad)).toEqual([]);
    const names = records.map(({ field }) => field);
    for (const { missing } of checks.filter(({ status }) => status === 'unproven'))
      expect(names).toEqual(expect.arrayContaining(missing.map(({ field }) => field)));
  });
});

/** Where settings seem to fit and no place is found at which they do. */
it.each([35, 57, 87])('random circuit %i: a way out that is told does, whatever was tried before', (seed) => {
  const facts = aRandomCircuit(seed);
  const { changes, outcome } = findWayOut(facts);
  const { checks } = proveFacts(changes.reduce((made, change) => applyChange(made, change), facts));
  expect(checks.some(isBad)).toBe(outcome === 'none');
});
