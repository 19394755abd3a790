import { isRight } from '../src/circuit-checks/checks.js';
import type { CircuitFacts } from '../src/circuit-facts/circuit-facts.types.js';
import { proveFacts } from '../src/circuit-facts/prove-facts.js';
import { applyChange } from '../src/way-out/apply-change.js';
import { findWayOut } from '../src/way-out/find-way-out.js';
import { listPlaces } from '../src/way-out/places.js';
import { isBad, Prover } from '../src/way-out/prover.js';
import { listSettingLevers } from '../src/way-out/setting-levers.js';
import type { WayOut, WayOutChange } from '../src/way-out/way-out.types.js';
import { aCircuit, aFixture, aRandomCircuit, COMPONENTS, ELEMENT, READINGS, SETTINGS } from './facts-builder.js';
import { part } from './facts-checks.js';

/** Figures of its changes at one end each: those of the same place in a number are at the upper one. */
function follow(facts: CircuitFacts, changes: readonly WayOutChange[], ends = 0): CircuitFacts {
  return changes.reduce((made, change, index) => {
    const { lowest, highest } = change;
    const isUpper = (ends & (2 ** index)) !== 0;
    return applyChange(made, change, (isUpper ? highest : lowest) ?? lowest ?? highest ?? undefined);
  }, facts);
}

/** Checks that are wrong, or lack what is not told, when it is followed. */
function listWrong(facts: CircuitFacts, { changes, records }: WayOut, ends = 0): string[] {
  const toldFields = new Set(records.map(({ field }) => field));
  return proveFacts(follow(facts, changes, ends))
    .checks.filter(
      (check) =>
        !isRight(check) && !(check.status === 'unproven' && check.missing.every(({ field }) => toldFields.has(field))),
    )
    .map(({ code, reason }) => `${code} ${reason}`);
}

/** Settings and switch points of a circuit in steps of 10 bar, at which some checks are right together. */
function listRight(facts: CircuitFacts, { bounds }: WayOut): string[] {
  const { inUse } = facts.settings;
  if (inUse === null) return [];
  const codes = bounds.map(({ code }) => code);
  const prover = new Prover();
  const right: string[] = [];
  const apartPa = Math.max(1e5, Number(inUse.setPointPa) - Number(inUse.resetPointPa));
  for (let settingPa = 100e5; settingPa <= 240e5; settingPa += 10e5) {
    for (let resetPointPa = 80e5; resetPointPa < settingPa; resetPointPa += 10e5) {
      const set = { ...inUse, settingPa, resetPointPa, setPointPa: resetPointPa + apartPa };
      const made = { ...facts, settings: { ...facts.settings, inUse: set, isAsLeft: false } };
      if (!prover.prove(made, codes).some(isBad)) right.push(`${settingPa / 1e5} and ${resetPointPa / 1e5} bar`);
    }
  }
  return right;
}

describe('a way out that one thing after the other does not come to', () => {
  it.each([
    [186, 'pads bear it at one setting, and not at every one that fits'],
    [390, 'a relief finds its place at one setting, and not at every one that fits'],
  ])('random circuit %i: %s', (seed) => {
    const facts = aRandomCircuit(seed);
    const wayOut = findWayOut(facts);
    expect(wayOut.changes.length).toBeGreaterThan(0);
    expect(listWrong(facts, wayOut)).toEqual([]);
  });

  it('random circuit 290: what was measured counts where it was read, and there it is right', () => {
    const facts = aRandomCircuit(290);
    const wayOut = findWayOut(facts);
    const readAtPa = facts.settings.readings?.settingPa;
    expect(wayOut.changes).toContainEqual(
      expect.objectContaining({ code: 'setting', lowest: readAtPa, highest: readAtPa }),
    );
    expect(listWrong(facts, wayOut)).toEqual([]);
  });

  it('a switch of which nobody has said the set point is set anew, at both points', () => {
    const inUse = { ...SETTINGS, setPointPa: null, resetPointPa: 112e5 };
    const facts = aCircuit({ settings: { inUse, isAsLeft: true, readings: READINGS }, neighbours: [] });
    const wayOut = findWayOut(facts);
    expect(wayOut).toMatchObject({ outcome: 'whole', changes: [{ code: 'switch', from: 112e5, apart: 5e5 }] });
    const { setPointPa, resetPointPa } = follow(facts, wayOut.changes).settings.inUse ?? SETTINGS;
    expect(Number(setPointPa) - Number(resetPointPa)).toBe(5e5);
    expect(listWrong(facts, wayOut)).toEqual([]);
  });
});

describe('where it was read', () => {
  const asRead = (settings: Partial<CircuitFacts['settings']>, drive: 'air' | 'electric' = 'air'): string[][] => {
    const { powerUnit, settings: usual } = aCircuit();
    const facts = aCircuit({ powerUnit: { ...powerUnit, drive }, settings: { ...usual, ...settings } });
    return listPlaces(facts, listSettingLevers(facts))
      .filter(({ isAsRead }) => isAsRead)
      .map(({ begun }) => begun.map(({ code, lowest }) => `${code} ${Number(lowest) / 1e5}`));
  };

  it('setting and air are as they were then; what is the same now is no change', () => {
    const readings = { ...READINGS, settingPa: 168e5, airPressurePa: 4.9e5 };
    expect(asRead({ readings })).toEqual([['setting 168', 'air-pressure 4.9']]);
    expect(asRead({ readings }, 'electric')).toEqual([['setting 168']]);
    expect(asRead({ readings: { ...readings, airPressurePa: null } })).toEqual([['setting 168']]);
    expect(asRead({})).toEqual([[]]);
  });

  it('where nothing is set, or nobody has read, there is no such place', () => {
    expect(asRead({ readings: null })).toEqual([]);
    expect(asRead({ readings: { ...READINGS, settingPa: null } })).toEqual([]);
    expect(asRead({ inUse: null })).toEqual([]);
  });
});

describe('where there is none', () => {
  it.each([2, 129, 160, 161, 164, 170, 173, 185])(
    'random circuit %i: what is in the way is right at no setting together',
    (seed) => {
      const facts = aRandomCircuit(seed);
      const wayOut = findWayOut(facts);
      expect(wayOut).toMatchObject({ outcome: 'none', changes: [] });
      expect(wayOut.bounds.length).toBeGreaterThan(1);
      expect(listRight(facts, wayOut)).toEqual([]);
    },
  );
});

it('one thing alone is in the way, and it is told: a check valve that nothing opens', () => {
  const sprung = { form: 'lever-clamp', acting: 'single', springForceN: 300, springForceAtContactN: 420 } as const;
  const oneLine = COMPONENTS.filter(({ lineFunctions }) => !lineFunctions.includes('unclamp'));
  const valve = COMPONENTS.filter(({ kind }) => kind === 'directional-valve');
  const { circuit } = aCircuit();
  const facts = aCircuit({
    circuit: { ...circuit, trappedTemperatureRiseK: 0 },
    components: [
      ...oneLine,
      ...valve.map((one) => ({ ...one, lineFunctions: ['supply', 'tank', 'clamp'] as const })),
      part('check-valve', ['clamp'], { lossCoefficient: 2, innerDiameter: 0.006 }),
    ],
    fixture: aFixture({ elements: [{ ...ELEMENT, ...sprung }] }),
  });
  const wayOut = findWayOut(facts);
  expect(wayOut).toMatchObject({ outcome: 'none', changes: [] });
  expect(wayOut.bounds.map(({ code, reason }) => [code, reason])).toEqual([['unclamping', 'check-valve-stays-shut']]);
});

it.each([
  [19, 0],
  [35, 2],
])(
  'random circuit %i: what is missed only where two others lie at opposite ends is spared, and %i of them have one figure',
  (seed, set) => {
    const facts = aRandomCircuit(seed);
    const wayOut = findWayOut(facts);
    const { changes } = wayOut;
    expect(changes.filter(({ lowest, highest }) => lowest !== null && lowest === highest)).toHaveLength(set);
    for (const spared of changes) {
      const part = { ...wayOut, changes: changes.filter((one) => one !== spared) };
      expect([0, 2 ** part.changes.length - 1].flatMap((ends) => listWrong(facts, part, ends))).not.toEqual([]);
    }
    const ranged = changes.flatMap(({ lowest, highest }, index) =>
      lowest !== null && highest !== null && lowest !== highest ? [2 ** index] : [],
    );
    for (const ends of ranged.reduce((all, bit) => [...all, ...all.map((one) => one + bit)], [0]))
      expect(listWrong(facts, wayOut, ends)).toEqual([]);
  },
);
