import { CHECK_CODES, type CheckCode } from '../circuit-checks/checks.js';
import type { CircuitFacts } from '../circuit-facts/circuit-facts.types.js';
import type { ProvedCheck } from '../pressure-ladder/pressure-ladder.types.js';
import { applyValue, toAnswer, type Value } from './apply-change.js';
import { listBetween } from './between.js';
import { CHANGES } from './changes.js';
import { idOf, type Lever } from './levers.js';
import { keyOf, listBadPairs, listMends, type BadPair } from './mends.js';
import { isBad, type Prover } from './prover.js';
import { asksTooMuch, SETTING_CODES, SETTING_RULES, type SettingLever } from './setting-levers.js';
import { listSteps } from './steps.js';
import type { WayOutChange } from './way-out.types.js';

/** One thing that could be changed, with the figures that are tried of it. */
interface Candidate {
  readonly lever: Lever;
  readonly values: readonly Value[];
  /** parts of checks that it bears on, by their keys */
  readonly bearsOn: ReadonlySet<string>;
}

/** Checks whose parts stand each by itself: what bears on one says nothing of the next. */
const IN_PARTS: ReadonlySet<CheckCode> = new Set(['control-wiring', 'unclamping', 'order-and-speed', 'reservoir']);
/** Checks of how its cylinders move: whatever is set may bear on them, and to try it takes long. */
const MOVING: ReadonlySet<CheckCode> = new Set(['clamping-time', 'unclamping', 'order-and-speed', 'reservoir']);
/** So many figures of a change are tried, so many of each of two together, and so many pairs of changes: with more, nothing is shown. */
const MOST_VALUES = 240;
const MOST_TOGETHER = 40;
const MOST_PAIRS = 40;
/** So often it is computed how its cylinders move: that takes longest by far. */
const MOST_MOVED = 12;
/** So many circuits with one or two changes made are looked at: somebody waits for the answer. */
const MOST_LOOKED_AT = 12_000;
/** Places in its figures at which it is looked whether a change bears on anything. */
const SAMPLES = 5;

const isSetting = ({ code }: Lever): boolean => (SETTING_CODES as readonly string[]).includes(code);
const isOfSettings = ({ code, reason }: BadPair): boolean =>
  reason !== 'switch-senses-supply' &&
  SETTING_RULES.some(({ rule, reasons }) => rule === code && (reasons === null || reasons.includes(reason)));

/** Some of many, evenly, with both ends. */
function thin<T>(values: readonly T[], most: number): readonly T[] {
  if (values.length <= most) return values;
  return Array.from(
    { length: most },
    (_, index) => values[Math.round((index * (values.length - 1)) / (most - 1))] as T,
  );
}

/** Whether fewer changes than were found will do: one is tried in every figure of each, then two; of more it is told how few there must be. */
export class Fewest {
  private readonly bad: readonly BadPair[];
  private readonly candidates: readonly Candidate[];
  private moved = 0;
  private lookedAt = 0;
  private readonly tried = new Map<string, ReadonlyMap<Value, readonly string[]>>();

  constructor(
    private readonly prover: Prover,
    private readonly facts: CircuitFacts,
    settings: ReadonlyMap<string, SettingLever>,
    private readonly isAsGood: (checks: readonly ProvedCheck[], changes: number) => boolean,
  ) {
    this.bad = prover.prove(facts).flatMap(listBadPairs);
    const ofSettings = [...settings.values()].map(({ lever, lowest, highest, step }) => {
      const [from, to] = [Math.ceil(lowest / step), Math.floor(highest / step)];
      const all = Array.from({ length: to - from + 1 }, (_, index) => (from + index) * step);
      // No further from what is set than anything of a circuit is asked for.
      const near = all.filter((value) => value > 0.5 * Number(lever.from) && value < 1.7 * Number(lever.from));
      return { lever, list: () => near };
    });
    const ofParts = this.bad.flatMap((pair) =>
      listMends(facts, pair).map((lever) => ({ lever, list: () => this.listValues(lever, pair) })),
    );
    // Of what is set its own figures count: of a pressure there can be millions that mend a part.
    const all = new Map<string, { lever: Lever; list: () => readonly Value[] }>(
      [...ofParts, ...ofSettings].map((one) => [idOf(one.lever), one]),
    );
    this.candidates = [...all.values()].map(({ lever, list }) => {
      const values = list();
      return { lever, values, bearsOn: this.findBorne(lever, values) };
    });
  }

  private listValues(lever: Lever, pair: BadPair): readonly Value[] {
    const { way } = CHANGES[lever.code];
    if (way === 'only') return [toAnswer(lever.choice)];
    return way === 'between' ? listBetween(this.facts, lever, pair, [this.facts]) : listSteps(lever, way);
  }

  /** Rather too much than too little: what is told to bear on a part and does not makes no claim stronger. */
  private findBorne(lever: Lever, values: readonly Value[]): ReadonlySet<string> {
    const samples = thin(values, SAMPLES).map((value) => this.prover.set(this.facts, lever, value));
    return new Set(
      this.bad
        .filter((pair) => {
          if (listMends(this.facts, pair).some((one) => idOf(one) === idOf(lever))) return true;
          if (pair.reason === 'switch-senses-supply') return false;
          if (MOVING.has(pair.code)) return isSetting(lever);
          const [before] = this.prover.prove(this.facts, [pair.code]);
          return samples.some((facts) => {
            const [after] = this.prover.prove(facts, [pair.code]) as [ProvedCheck];
            return IN_PARTS.has(pair.code)
              ? !listBadPairs(after).some((bad) => keyOf(bad) === keyOf(pair))
              : JSON.stringify(after) !== JSON.stringify(before);
          });
        })
        .map(keyOf),
    );
  }

  /** How few there must be for what nothing that is set, and nothing that mends what is set, bears on. */
  findLeastApart(): number {
    const ofSettings = new Set(this.bad.filter(isOfSettings).map(keyOf));
    const isApart = ({ lever, bearsOn }: Candidate): boolean =>
      lever.code === 'move-switch' || (!isSetting(lever) && ![...bearsOn].some((key) => ofSettings.has(key)));
    const parts = this.bad.filter((pair) =>
      this.candidates.every((candidate) => !candidate.bearsOn.has(keyOf(pair)) || isApart(candidate)),
    );
    return this.findLeastOf(parts, parts.length);
  }

  /** How few there must be: of fewer, some part that is wrong has nothing that bears on it. Looked for up to a number. */
  findLeast(most: number): number {
    return this.findLeastOf(this.bad, most);
  }

  private findLeastOf(bad: readonly BadPair[], most: number): number {
    const reach = (open: readonly BadPair[], left: number): boolean => {
      const [first] = open;
      if (first === undefined) return true;
      if (left === 0) return false;
      return this.candidates
        .filter(({ bearsOn }) => bearsOn.has(keyOf(first)))
        .some(({ bearsOn }) =>
          reach(
            open.filter((pair) => !bearsOn.has(keyOf(pair))),
            left - 1,
          ),
        );
    };
    // The part on which fewest bear first.
    const bearing = (pair: BadPair): number => this.candidates.filter(({ bearsOn }) => bearsOn.has(keyOf(pair))).length;
    const parts = [...bad].sort((a, b) => bearing(a) - bearing(b));
    for (let count = 0; count < most; count += 1) if (reach(parts, count)) return count;
    return most;
  }

  /** One change that does, else two, where fewer than so many may do; null: none was found, which may show that there are none. */
  findFewer(least: number, than: number): { changes: WayOutChange[] | null; isFewest: boolean } {
    const single = least > 1 ? null : this.findOne();
    if (single !== null) return { changes: single, isFewest: true };
    // After no one change two are the fewest; after no two, three.
    if (than === 2 || least > 2) return { changes: null, isFewest: this.isComplete && than === 2 };
    const { changes, isAll } = this.findTwo();
    return { changes, isFewest: this.isComplete && (changes !== null || (isAll && than === 3)) };
  }

  /** One change that does, at the first figure at which it does; null: none does. */
  findOne(): WayOutChange[] | null {
    for (const { lever, values, bearsOn } of this.candidates) {
      if (bearsOn.size < new Set(this.bad.map(keyOf)).size) continue;
      const value = values.find((one) => this.isRight(this.prover.set(this.facts, lever, one), 1));
      if (value !== undefined) return [toChange(lever, value)];
    }
    return null;
  }

  /** Two that do together; null: none do, or there are more of them than can be tried. */
  findTwo(): { changes: WayOutChange[] | null; isAll: boolean } {
    const keys = [...new Set(this.bad.map(keyOf))];
    const pairs = this.candidates.flatMap((a, index) =>
      this.candidates
        .slice(index + 1)
        .filter(({ bearsOn }) => keys.every((key) => a.bearsOn.has(key) || bearsOn.has(key)))
        .map((b) => [a, b] as const),
    );
    let isAll = pairs.length <= MOST_PAIRS;
    for (const [a, b] of pairs.slice(0, MOST_PAIRS)) {
      const [ofFirst, ofSecond] = [this.worth(a, b), this.worth(b, a)];
      isAll &&= ofFirst.isAll && ofSecond.isAll;
      for (const first of ofFirst.values) {
        const made = this.prover.set(this.facts, a.lever, first);
        for (const second of ofSecond.values) {
          if (this.isRight(applyValue(made, b.lever, second), 2))
            return { changes: [toChange(a.lever, first), toChange(b.lever, second)], isAll: true };
        }
      }
    }
    return { changes: null, isAll };
  }

  /** Figures of a change that mend by themselves what the other does not bear on. */
  private worth(candidate: Candidate, { bearsOn }: Candidate): { values: readonly Value[]; isAll: boolean } {
    const worth = [...this.tryOut(candidate)].filter(([, left]) => left.every((key) => bearsOn.has(key)));
    const isAll = worth.length <= MOST_TOGETHER && candidate.values.length <= MOST_VALUES;
    return { values: thin(worth, MOST_TOGETHER).map(([value]) => value), isAll };
  }

  /** What is still wrong with each figure of a change; of what its cylinders do nothing is said. */
  private tryOut({ lever, values }: Candidate): ReadonlyMap<Value, readonly string[]> {
    const known = this.tried.get(idOf(lever));
    if (known !== undefined) return known;
    const codes = [...new Set(this.bad.map(({ code }) => code))].filter((code) => !MOVING.has(code));
    const tried = new Map(
      thin(values, MOST_VALUES).map((value) => {
        const bad = this.prover
          .prove(this.prover.set(this.facts, lever, value), codes)
          .flatMap(listBadPairs)
          .map(keyOf);
        return [value, this.bad.map(keyOf).filter((key) => bad.includes(key))] as const;
      }),
    );
    this.tried.set(idOf(lever), tried);
    return tried;
  }

  /** Whether all that was to be tried was. */
  private get isComplete(): boolean {
    return this.moved <= MOST_MOVED && this.lookedAt <= MOST_LOOKED_AT;
  }

  /** Those that are wrong as it is are looked at first: they are wrong still, as a rule. */
  private isRight(facts: CircuitFacts, changes: number): boolean {
    this.lookedAt += 1;
    if (this.lookedAt > MOST_LOOKED_AT || asksTooMuch(facts, this.facts)) return false;
    const codes = [...new Set([...this.bad.map(({ code }) => code), ...CHECK_CODES])];
    if (codes.some((code) => !MOVING.has(code) && this.prover.prove(facts, [code]).some(isBad))) return false;
    this.moved += 1;
    return this.moved <= MOST_MOVED && this.isAsGood(this.prover.prove(facts), changes);
  }
}

const toChange = (lever: Lever, value: Value): WayOutChange =>
  typeof value === 'number' ? { ...lever, lowest: value, highest: value } : { ...lever, lowest: null, highest: null };
