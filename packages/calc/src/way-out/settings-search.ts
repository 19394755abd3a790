import type { CircuitFacts } from '../circuit-facts/circuit-facts.types.js';
import { listBadPairs } from './mends.js';
import { isBad, type Prover } from './prover.js';
import {
  isAttainable,
  listSettingLevers,
  PUMP_SETTINGS,
  RESOURCES,
  restartsBelow,
  SETTING_RULES,
  type SettingCode,
  type SettingLever,
  type SettingRule,
} from './setting-levers.js';

/** Of a setting, on its steps. */
interface Range {
  low: number;
  high: number;
}
export type Ranges = ReadonlyMap<SettingCode, Range>;
type Point = ReadonlyMap<SettingCode, number>;

/** Where settings fit; else the rules that leave them no room, or that no place was found for. */
export type Fit = { ranges: Ranges } | { inTheWay: readonly SettingRule[]; isShown: boolean };

const AS_IT_IS: Point = new Map();
/** So many steps above the least, so that there is something to set. */
const ABOVE_LEAST = 10;
/** At so many places in its range a setting is looked at that serves a rule up in one circuit and down in another. */
const PLACES = 5;
/** Rounds in which bounds of one setting bound another: there are five of them. */
const ROUNDS = 6;

/** Where the settings of a circuit fit between its checks: bounds are narrowed until none moves, and what is told fits at every corner. */
export class SettingsSearch {
  readonly levers: ReadonlyMap<SettingCode, SettingLever>;
  private readonly judged = new Map<string, boolean>();
  private readonly made = new Map<string, CircuitFacts>();

  constructor(
    private readonly prover: Prover,
    private readonly facts: CircuitFacts,
    /** what is set already, and stays so */
    private readonly set: readonly SettingCode[],
  ) {
    this.levers = listSettingLevers(facts);
  }

  private at(key: string, point: Point): CircuitFacts {
    const facts =
      this.made.get(key) ??
      [...point].reduce((made, [code, steps]) => {
        const { lever, step } = this.leverOf(code);
        return this.prover.set(made, lever, steps * step);
      }, this.facts);
    this.made.set(key, facts);
    return facts;
  }

  isKept(rule: SettingRule, point: Point): boolean {
    const place = [...point].join(' ');
    const key = `${SETTING_RULES.indexOf(rule)} ${place}`;
    const kept = this.judged.get(key) ?? this.judge(rule, this.at(place, point));
    this.judged.set(key, kept);
    return kept;
  }

  /** The settings that are free, each between two ends, so that every one of some rules is kept wherever between them they are set. */
  fit(free: readonly SettingCode[], asked: readonly SettingRule[], isDrawnOut: boolean): Fit {
    const rules = asked.filter(({ rule }) => isAskedOf(rule, [...free, ...this.set]));
    const ranges = new Map<SettingCode, Range>(
      free.map((code) => {
        const { lowest, highest, step } = this.leverOf(code);
        return [code, { low: Math.ceil(lowest / step), high: Math.floor(highest / step) }];
      }),
    );
    const inTheWay = this.narrowAll(rules, ranges);
    if (inTheWay !== null) return { inTheWay, isShown: true };
    const isRight = (box: Ranges): boolean =>
      rules.every((rule) => cornersOf(box).every((corner) => this.isKept(rule, corner)));
    // Where parts have to bear it, it is set no higher than it has to be.
    const isLeast = SETTING_RULES.some(
      (rule) => rule.isLeftToParts === true && rule.wants.setting === -1 && !asked.includes(rule),
    );
    const seed = this.findSeed(rules, ranges, isRight, isLeast ? [LOW, MIDDLE, HIGH] : [MIDDLE, LOW, HIGH]);
    if (seed === null)
      return { inTheWay: rules.filter((rule) => free.some((code) => code in rule.wants)), isShown: false };
    if (!isDrawnOut) return { ranges: seed };
    const setting = seed.get('setting');
    const within = new Map(ranges);
    if (isLeast && setting !== undefined)
      within.set('setting', {
        low: setting.low,
        high: Math.min((ranges.get('setting') as Range).high, setting.low + ABOVE_LEAST),
      });
    return { ranges: grow(seed, within, isRight) };
  }

  /** Narrows until no bound moves any more; what leaves no room, or null: there may be some. */
  private narrowAll(rules: readonly SettingRule[], ranges: Map<SettingCode, Range>): SettingRule[] | null {
    const narrowing = new Set<SettingRule>();
    // What its cylinders do takes long to find out, and is looked at where it is wrong, or at the end.
    const bounding = rules.filter(
      (rule) => (rule.rule !== 'clamping-time' && rule.rule !== 'order-and-speed') || !this.isKept(rule, AS_IT_IS),
    );
    for (let round = 0; round < ROUNDS; round += 1) {
      const before = JSON.stringify([...ranges]);
      for (const rule of bounding) {
        const was = JSON.stringify([...ranges]);
        const isKept = this.narrow(rule, ranges);
        // Of what no free setting serves nothing else is in the way.
        if (!isKept && ![...ranges.keys()].some((code) => code in rule.wants)) return [rule];
        if (JSON.stringify([...ranges]) !== was) narrowing.add(rule);
        if (!isKept || [...ranges.values()].some(({ low, high }) => low > high))
          return [...new Set([...narrowing, rule])];
      }
      if (JSON.stringify([...ranges]) === before) break;
    }
    return null;
  }

  /** A point at which all is right: each setting is put somewhere in what the ones before it leave; null: none was found. */
  private findSeed(
    rules: readonly SettingRule[],
    within: Ranges,
    isRight: (box: Ranges) => boolean,
    places: readonly Place[],
  ): Ranges | null {
    const codes = [...within.keys()];
    const [bought, set] = [codes.filter((code) => code in RESOURCES), codes.filter((code) => !(code in RESOURCES))];
    // As good as can be had, for what is set then; or what is set first, for as little as that then needs.
    const orders = [
      { order: [...bought, ...set], isBest: true },
      { order: [...set, ...bought], isBest: false },
    ];
    for (const { order, isBest } of bought.length === 0 ? orders.slice(1) : orders) {
      for (const place of places) {
        const ranges = new Map(within);
        const isOpen = order.every((code) => {
          const range = ranges.get(code) as Range;
          const best = RESOURCES[code];
          const steps = best === undefined ? place(range) : (best === 1) === isBest ? range.high : range.low;
          ranges.set(code, { low: steps, high: steps });
          return this.narrowAll(rules, ranges) === null;
        });
        if (isOpen && isRight(ranges)) return ranges;
      }
    }
    return null;
  }

  private leverOf(code: SettingCode): SettingLever {
    return this.levers.get(code) as SettingLever;
  }

  private judge({ rule: code, reasons, isAlone, isWithoutPads }: SettingRule, given: CircuitFacts): boolean {
    const beside = isAlone === true ? { ...given, neighbours: [] } : given;
    const facts = isWithoutPads === true ? withoutPads(beside) : beside;
    if (code === 'attainable') return isAttainable(facts);
    if (code === 'restarts-below') return restartsBelow(facts);
    const checks = this.prover.prove(facts, [code]).filter(isBad);
    return checks.every(
      (check) => reasons !== null && !listBadPairs(check).some(({ reason }) => reasons.includes(reason)),
    );
  }

  /** Takes off what a rule leaves no room for, with every other setting as it serves the rule best; false: it is kept nowhere. */
  private narrow(rule: SettingRule, ranges: Map<SettingCode, Range>): boolean {
    const best = listBest(rule, ranges).filter((point) => this.isKept(rule, point));
    if (best.length === 0) return false;
    for (const [code, range] of ranges) {
      const way = rule.wants[code];
      if (way === undefined || way === 0) continue;
      const isEnough = (steps: number): boolean =>
        best.some((point) => this.isKept(rule, new Map(point).set(code, steps)));
      const worst = way === 1 ? range.low : range.high;
      if (isEnough(worst)) continue;
      let [bad, good] = [worst, way === 1 ? range.high : range.low];
      while (Math.abs(good - bad) > 1) {
        const middle = Math.floor((good + bad) / 2);
        if (isEnough(middle)) good = middle;
        else bad = middle;
      }
      ranges.set(code, way === 1 ? { ...range, low: good } : { ...range, high: good });
    }
    return true;
  }
}

/** Each setting as it serves a rule best: where that is not one of its ends in every circuit, at each of some places between them. */
function listBest({ wants }: SettingRule, ranges: Ranges): Point[] {
  let points: Map<SettingCode, number>[] = [new Map()];
  for (const [code, { low, high }] of ranges) {
    const way = wants[code];
    const apart = (high - low) / (PLACES - 1);
    const between = Array.from({ length: PLACES }, (_, index) => Math.round(high - index * apart));
    const steps = way === 0 ? [...new Set(between)] : [way === -1 ? low : high];
    points = points.flatMap((point) => steps.map((step) => new Map(point).set(code, step)));
  }
  return points;
}

const NO_PAD = {
  padForm: null,
  padRadiusM: null,
  padLengthM: null,
  contactModulusPa: null,
  surfacePressureLimitPa: null,
};
const withoutPads = ({ fixture, ...facts }: CircuitFacts): CircuitFacts => ({
  ...facts,
  fixture: fixture && { ...fixture, elements: fixture.elements.map((element) => ({ ...element, ...NO_PAD })) },
});

/** What no check asks of a pump is asked of what is set anew. */
function isAskedOf(rule: SettingRule['rule'], free: readonly SettingCode[]): boolean {
  const isOfPump = rule === 'attainable' || rule === 'restarts-below';
  return !isOfPump || free.some((code) => PUMP_SETTINGS[rule].has(code));
}

/** Where in its range a setting is put. */
type Place = (range: Range) => number;
const MIDDLE: Place = ({ low, high }) => Math.round((low + high) / 2);
const LOW: Place = ({ low }) => low;
const HIGH: Place = ({ high }) => high;

/** A range about a point, drawn out end by end as far as all stays right. */
function grow(seed: Ranges, within: Ranges, isRight: (box: Ranges) => boolean): Ranges {
  const box = new Map(seed);
  const codes = [...within.keys()];
  // What has to be bought is asked for as little as it can be, with something left for what is set.
  for (const code of [...codes.filter((one) => one in RESOURCES), ...codes.filter((one) => !(one in RESOURCES))]) {
    const most = within.get(code) as Range;
    for (const end of ['low', 'high'] as const) {
      const start = box.get(code) as Range;
      const at = (steps: number): Ranges => new Map(box).set(code, { ...start, [end]: steps });
      let [good, bad] = [start[end], most[end]];
      if (isRight(at(bad))) good = bad;
      while (Math.abs(bad - good) > 1) {
        const middle = Math.floor((good + bad) / 2);
        if (isRight(at(middle))) good = middle;
        else bad = middle;
      }
      const isShared = code in RESOURCES && codes.length > 1;
      box.set(code, { ...start, [end]: isShared ? Math.round((start[end] + good) / 2) : good });
    }
  }
  return box;
}

/** Every corner of some ranges, and their middle. */
function cornersOf(ranges: Ranges): Point[] {
  let corners: Map<SettingCode, number>[] = [new Map()];
  for (const [code, { low, high }] of ranges) {
    const ends = low === high ? [low] : [low, high];
    corners = corners.flatMap((corner) => ends.map((end) => new Map(corner).set(code, end)));
  }
  const middle = new Map([...ranges].map(([code, { low, high }]) => [code, (low + high) / 2] as const));
  return corners.length === 1 ? corners : [...corners, middle];
}
