import { isRight } from '../src/circuit-checks/checks.js';
import type { CircuitFacts } from '../src/circuit-facts/circuit-facts.types.js';
import { proveFacts } from '../src/circuit-facts/prove-facts.js';
import { isBad, Prover } from '../src/way-out/prover.js';
import { findWayOut } from '../src/way-out/find-way-out.js';
import type { WayOutChange } from '../src/way-out/way-out.types.js';
import { aRandomCircuit } from './facts-builder.js';
import { asksTooMuch, ENDS, follow, isEnough, listWrong, nameOf } from './followed.js';

/** Tried with every run of the tests; KEDGE_WAYS_OUT=500 tries so many. */
const CIRCUITS = Number(process.env.KEDGE_WAYS_OUT ?? 30);
/** Of so many changes every proper part is tried, of more each but one. */
const MOST_PARTS = 5;

/** Of so many circuits every change, and every two, are tried. */
const MOST_TRIED = 5;

function* properPartsOf(changes: readonly WayOutChange[]): Generator<WayOutChange[]> {
  if (changes.length > MOST_PARTS) {
    for (const change of changes) yield changes.filter((other) => other !== change);
    return;
  }
  for (let which = 0; which < 2 ** changes.length - 1; which += 1) {
    yield changes.filter((_change, index) => (which & (2 ** index)) !== 0);
  }
}

type Tried = readonly [string, readonly ((facts: CircuitFacts) => CircuitFacts)[]];
const FACTORS = [0.6, 0.75, 0.85, 0.92, 0.97, 1.03, 1.1, 1.2, 1.4, 1.8];
/** Everything that is set, every rating and what the machine's supply gives, brought to other figures by a plain rule. */
function listTried(facts: CircuitFacts): Tried[] {
  const { settings, circuit, fixture, components, control } = facts;
  const scaled = <T extends object>(record: T, name: keyof T, factor: number): T => ({
    ...record,
    [name]: typeof record[name] === 'number' ? Number(record[name]) * factor : record[name],
  });
  const byFactors = (name: string, change: (made: CircuitFacts, factor: number) => CircuitFacts): Tried => [
    name,
    FACTORS.map((factor) => (made: CircuitFacts) => change(made, factor)),
  ];
  const names = Object.keys(settings.inUse ?? {}) as (keyof NonNullable<typeof settings.inUse>)[];
  const ofSettings = names.map((name) =>
    byFactors(name, (made, factor) => ({
      ...made,
      settings: {
        ...made.settings,
        isAsLeft: false,
        inUse: made.settings.inUse && scaled(made.settings.inUse, name, factor),
      },
    })),
  );
  const ofComponents = components.flatMap(({ id, kind, figures }) =>
    ['ratedPressure', 'openingPressure', 'accuracy', 'pistonRatio', 'coilTolerance', 'coilVoltage']
      .filter((name) => name in figures)
      .map((name) =>
        byFactors(`${kind} ${name}`, (made, factor) => ({
          ...made,
          components: made.components.map((one) =>
            one.id === id ? { ...one, figures: scaled(one.figures, name, factor) } : one,
          ),
        })),
      ),
  );
  const times = (['clampTimeAllowedS', 'unclampTimeAllowedS', 'returnPressurePa', 'timeWithoutSupplyS'] as const)
    .filter((name) => circuit[name] !== null)
    .map((name) => byFactors(name, (made, factor) => ({ ...made, circuit: scaled(made.circuit, name, factor) })));
  const ofMachine = (['supplyRatingW', 'supplyPeakW', 'controlVoltageV', 'outputRatingV', 'controlReactionS'] as const)
    .filter((name) => control.machine[name] !== null)
    .map((name) =>
      byFactors(name, (made, factor) => ({
        ...made,
        control: { ...made.control, machine: scaled(made.control.machine, name, factor) },
      })),
    );
  const rating = byFactors('fixture', (made, factor) => ({
    ...made,
    fixture: made.fixture && scaled(made.fixture, 'ratedPressurePa', factor),
  }));
  return [...ofSettings, ...ofComponents, ...times, ...ofMachine, ...(fixture === null ? [] : [rating])];
}
/** What failed before is looked at first, so that most of what is tried ends there. */
const prover = new Prover();
function isCleared(made: CircuitFacts, before: CircuitFacts, known: ReadonlySet<string>): boolean {
  const bad = prover.prove(before).filter(isBad);
  if (bad.some(({ code }) => prover.prove(made, [code]).some(isBad))) return false;
  const { checks } = proveFacts(made);
  return checks.every(
    (check) => isRight(check) || (check.status === 'unproven' && check.missing.every((one) => known.has(nameOf(one)))),
  );
}

describe('the way out of random circuits', () => {
  const all = Array.from({ length: CIRCUITS }, (_, seed) => {
    const facts = aRandomCircuit(seed);
    return { seed, facts, wayOut: findWayOut(facts) };
  });
  const mended = all.filter(({ wayOut }) => wayOut.outcome !== 'none');

  it('followed to the letter, at either end and in the middle of its ranges, leaves nothing but what is to be recorded', () => {
    const wrong = mended.flatMap(({ seed, facts, wayOut }) =>
      ENDS.flatMap((end) =>
        listWrong(follow(facts, wayOut.changes, end), wayOut).map((what) => `${seed} ${end}: ${what}`),
      ),
    );
    expect(wrong).toEqual([]);
    expect(mended.length).toBeGreaterThan(CIRCUITS / 2);
  });

  it('asks of no pump what it cannot do', () => {
    const wrong = mended.flatMap(({ seed, facts, wayOut: { changes } }) =>
      ENDS.filter((end) => asksTooMuch(facts, changes, end)).map(
        (end) => `${seed} ${end}: ${changes.map(({ code }) => code).join()}`,
      ),
    );
    expect(wrong).toEqual([]);
  });

  it('none of its changes can be spared', () => {
    const spared = mended.flatMap(({ seed, facts, wayOut }) =>
      [...properPartsOf(wayOut.changes)]
        .filter((part) => isEnough(facts, part, wayOut))
        .map(
          (part) =>
            `${seed}: ${part.map(({ code }) => code).join()} of ${wayOut.changes.map(({ code }) => code).join()}`,
        ),
    );
    expect(spared).toEqual([]);
  });

  it('no one change, and no two, do what is said to take more: tried apart from how it was found', () => {
    const wrong: string[] = [];
    const claimed = mended.filter(({ wayOut }) => wayOut.isFewest && wayOut.changes.length > 1);
    for (const { seed, facts, wayOut } of claimed.slice(0, MOST_TRIED)) {
      const known = new Set(wayOut.records.map(nameOf));
      const does = (made: CircuitFacts): boolean => isCleared(made, facts, known);
      const tried = listTried(facts);
      for (const [index, [name, firsts]] of tried.entries()) {
        for (const first of firsts) {
          if (does(first(facts))) wrong.push(`${seed}: ${name}`);
          if (wayOut.changes.length < 3) continue;
          for (const [other, seconds] of tried.slice(index + 1)) {
            if (seconds.some((second) => does(second(first(facts))))) wrong.push(`${seed}: ${name} and ${other}`);
          }
        }
      }
    }
    expect(claimed.length).toBeGreaterThan(CIRCUITS / 15);
    expect(wrong).toEqual([]);
  });

  it('is whole where nothing has to be recorded, and the same whenever it is asked for', () => {
    for (const { wayOut } of mended) {
      expect(wayOut.bounds).toEqual([]);
      expect(wayOut.records.length === 0).toBe(wayOut.outcome === 'whole' || wayOut.outcome === 'nothing');
    }
    for (const { facts, wayOut } of all.slice(-10)) expect(findWayOut(facts)).toEqual(wayOut);
  });

  it('where there is none, no setting with no switch makes the checks hold that are named', () => {
    const none = all.filter(({ wayOut }) => wayOut.outcome === 'none');
    const wrong: string[] = [];
    for (const { seed, facts, wayOut } of none) {
      expect(wayOut.bounds.length).toBeGreaterThan(0);
      expect(wayOut.changes).toEqual([]);
      const { inUse } = facts.settings;
      if (inUse === null) continue;
      const apart = Math.max(1e5, (inUse.setPointPa ?? 0) - (inUse.resetPointPa ?? 0));
      for (let settingPa = 100e5; settingPa <= 240e5; settingPa += 10e5) {
        for (let resetPointPa = 80e5; resetPointPa < settingPa; resetPointPa += 10e5) {
          const changed = { ...inUse, settingPa, resetPointPa, setPointPa: resetPointPa + apart };
          const made = { ...facts, settings: { ...facts.settings, inUse: changed, isAsLeft: false } };
          const named = prover.prove(
            made,
            wayOut.bounds.map(({ code }) => code),
          );
          if (!named.some(isBad)) {
            wrong.push(`${seed}: setting ${settingPa / 1e5} bar, reset ${resetPointPa / 1e5} bar`);
          }
        }
      }
    }
    expect(wrong).toEqual([]);
  });
});
