import { isRight } from '../src/circuit-checks/checks.js';
import type { CircuitFacts } from '../src/circuit-facts/circuit-facts.types.js';
import { proveFacts } from '../src/circuit-facts/prove-facts.js';
import type { FigureRef } from '../src/pressure-ladder/pressure-ladder.types.js';
import { applyChange } from '../src/way-out/apply-change.js';
import { findWayOut } from '../src/way-out/find-way-out.js';
import { aCircuit, aControl, aFixture, COMPONENTS, ELEMENT, READINGS, SETTINGS } from './facts-builder.js';
import { checkOf, part } from './facts-checks.js';

/** Pads of steel on aluminium: invented. */
const PADS = { padForm: 'sphere', padRadiusM: 0.25, contactModulusPa: 58.6e9, surfacePressureLimitPa: 3.3e8 } as const;

describe('what is shared', () => {
  const shared = (
    names: readonly [string, string],
    codes: readonly [string, string] = ['M21', 'M31'],
  ): CircuitFacts => {
    const control = aControl();
    return aCircuit({
      control: {
        ...control,
        signals: control.signals.map((one) => ({
          ...one,
          name: one.id === 'circuit switch' ? names[0] : one.id === 'other switch' ? names[1] : one.name,
        })),
        mCodes: control.mCodes.map((one) => ({
          ...one,
          code: one.id === 'circuit in' ? codes[0] : one.id === 'other in' ? codes[1] : one.code,
        })),
      },
    });
  };

  it('a switch that another station hears too gets a wire and a contact of its own, under a name that nothing has', () => {
    const facts = shared(['B9', ' b9']);
    const { outcome, changes, isFewest } = findWayOut(facts);
    expect({ outcome, isFewest }).toEqual({ outcome: 'whole', isFewest: true });
    expect(changes).toEqual([
      expect.objectContaining({ code: 'own-signal', holder: 'signal', id: 'circuit switch', choice: 'B9.2' }),
    ]);
    const { checks } = proveFacts(changes.reduce((made, change) => applyChange(made, change), facts));
    expect(checks.every(isRight)).toBe(true);
  });

  it('so does a code, and both where both are', () => {
    const { outcome, changes } = findWayOut(shared(['B9', 'B9'], ['M50', 'm50']));
    expect(outcome).toBe('whole');
    expect(changes.map(({ code, choice }) => `${code} ${choice}`)).toEqual(['own-signal B9.2', 'own-code M50.2']);
  });

  it('a name that is taken already is not given again', () => {
    const facts = shared(['Y31', 'B31']);
    const control = {
      ...facts.control,
      signals: facts.control.signals.map((one) => (one.id === 'other unclamp' ? { ...one, name: 'Y31.2' } : one)),
    };
    expect(findWayOut({ ...facts, control }).changes.map(({ choice }) => choice)).toEqual(['Y31.3']);
  });
});

describe('what nothing could mend before', () => {
  const rightAfter = (facts: CircuitFacts): { codes: string[]; isAllRight: boolean; outcome: string } => {
    const { changes, outcome } = findWayOut(facts);
    const { checks } = proveFacts(changes.reduce((made, change) => applyChange(made, change), facts));
    return { codes: changes.map(({ code }) => code), isAllRight: checks.every(isRight), outcome };
  };

  it('a hose whose burst lets the clamps go gets a hose burst valve', () => {
    const components = COMPONENTS.map((one) =>
      one.kind === 'hose' ? { ...one, figures: { ...one.figures, burstFlow: 3e-5 } } : one,
    );
    expect(proveFacts(aCircuit({ components })).checks[0]).toMatchObject({ status: 'fails', reason: 'burst-hose' });
    expect(rightAfter(aCircuit({ components }))).toMatchObject({ isAllRight: true, outcome: 'whole' });
  });

  it('what stands in the tank line alone and does not bear what stands there is exchanged for one that does', () => {
    const filter = part('filter', ['tank'], { ratedPressure: 1e5, lossCoefficient: 1, innerDiameter: 0.01 });
    const facts = aCircuit({ components: [...COMPONENTS, filter] });
    expect(checkOf(facts, 'highest-within-rating')).toMatchObject({ status: 'fails', reason: 'return-above-rating' });
    expect(rightAfter(facts)).toEqual({ codes: ['rating'], isAllRight: true, outcome: 'whole' });
  });

  it('pads that press too hard are made rounder, or it is set lower', () => {
    const fixture = aFixture({ elements: [{ ...ELEMENT, ...PADS, padRadiusM: 0.2 }] });
    expect(proveFacts(aCircuit({ fixture })).checks[8]).toMatchObject({ reason: 'pad-presses-too-hard' });
    expect(rightAfter(aCircuit({ fixture }))).toEqual({ codes: ['pad-radius'], isAllRight: true, outcome: 'whole' });
  });

  it('an operation that no pressure holds has no way out, and the load case is told', () => {
    const [operation] = aCircuit().operations;
    const unheld = {
      ...operation!,
      requiredPressurePa: null,
      requiredBasis: 'computed',
      unheldCase: '1/through',
    } as const;
    const { outcome, changes, bounds } = findWayOut(aCircuit({ operations: [unheld] }));
    expect({ outcome, changes }).toEqual({ outcome: 'none', changes: [] });
    expect(bounds).toContainEqual(expect.objectContaining({ reason: 'no-pressure-holds', loadCase: '1/through' }));
  });
});

describe('what a change reaches beside this circuit', () => {
  const reached = (changes: readonly { code: string; alsoReaches: readonly FigureRef[] }[]): string[] =>
    changes.map(({ code, alsoReaches }) => `${code}: ${alsoReaches.map(({ name }) => name).join()}`);

  it('a setting of the power unit reaches what it feeds, one behind a reducing valve nothing, a point of the own switch nothing', () => {
    const { circuit, operations } = aCircuit();
    const thin = { ...operations[0]!, workpieceLimitPa: 176e5, workpieceNotLimiting: false };
    const ofUnit = reached(findWayOut(aCircuit({ operations: [thin] })).changes);
    expect(ofUnit).toContain('setting: Station 2');
    const behind = findWayOut(
      aCircuit({ operations: [thin], circuit: { ...circuit, hasReducingValve: true, reducingValveRelieves: true } }),
    );
    expect(reached(behind.changes)).toContain('setting: ');
    const low = { inUse: { ...SETTINGS, setPointPa: 128e5, resetPointPa: 118e5 }, isAsLeft: true, readings: READINGS };
    expect(reached(findWayOut(aCircuit({ settings: low })).changes)).toContain('switch: ');
  });

  it('what serves the whole machine reaches its other circuits', () => {
    const { machine, ...control } = aCircuit().control;
    const small = { ...control, machine: { ...machine, supplyRatingW: 60 } };
    expect(reached(findWayOut(aCircuit({ control: small })).changes)).toEqual(['supply-power: Station 2']);
  });

  it('a relief of the power unit reaches what it feeds', () => {
    const components = COMPONENTS.map((one) =>
      one.kind === 'relief-valve'
        ? { ...one, figures: { ...one.figures, openingPressure: 90e5, fullFlowPressure: 95e5 } }
        : one,
    );
    expect(reached(findWayOut(aCircuit({ components })).changes)).toContain('relief: Station 2');
  });
});
