import { CHECK_CODES, type CheckCode } from '../circuit-checks/checks.js';
import type { CircuitFacts } from '../circuit-facts/circuit-facts.types.js';
import type { ProvedCheck, MissingFigure } from '../pressure-ladder/pressure-ladder.types.js';
import { Mending } from './mending.js';
import { AS_IT_IS, type Place } from './places.js';
import { isBad, type Prover } from './prover.js';
import { listRecords, type Records } from './records.js';
import { SETTING_CODES, SETTING_RULES, type SettingCode, type SettingRule } from './setting-levers.js';
import { SettingsSearch, type Fit, type Ranges } from './settings-search.js';
import type { WayOutChange } from './way-out.types.js';

/** So many combinations of settings are tried before all of them are set at once; fewer where some of them are set already, at many places. */
const MOST_TRIED = 24;
const MOST_TRIED_AT_PLACE = 4;
/** Checks that nothing that is set decides: what mends them is the same whatever is set. */
const APART = ['control-wiring', 'interlock-sound', 'reservoir'] as const;

/** A combination to be tried: settings that may move, and rules that parts are left to mend. */
interface Trial {
  readonly free: readonly SettingCode[];
  readonly left: ReadonlySet<SettingRule>;
}
/** What was found, and what of it is still wrong. */
export interface Found {
  readonly changes: readonly WayOutChange[];
  readonly bad: readonly ProvedCheck[];
  readonly records: readonly MissingFigure[];
  /** how much there is to do, and to find out that was known before */
  readonly cost: number;
  /** so many changes of what is set, and of what settings do not mend, there are at the least */
  readonly least: number;
}
/** What was found, or the checks that leave no room: that they do is shown, or no place was found for them. */
export type Attempted = Found | { inTheWay: readonly CheckCode[]; isShown: boolean };

const keyOf = ({ free, left }: Trial): string =>
  `${free.join()} ${SETTING_RULES.flatMap((rule, index) => (left.has(rule) ? [index] : [])).join()}`;
const sizeOf = ({ free, left }: Trial): number => free.length + left.size;
/** One higher rating mends both checks of ratings. */
const RATINGS: ReadonlySet<string> = new Set(['setting-within-rating', 'highest-within-rating']);
function leastOf({ free, left }: Trial): number {
  const rules = [...left].map(({ rule }) => (RATINGS.has(rule) ? 'rating' : rule));
  return free.length + new Set(rules).size;
}
/** The fewest things that are wrong, then the fewest to do or to find out. */
const isBetter = (a: Found, b: Found): boolean =>
  a.bad.length < b.bad.length || (a.bad.length === b.bad.length && a.cost < b.cost);

/** A way out of a circuit of which some things are changed already, and some settings stay as they then are. */
export class Attempt {
  private readonly search: SettingsSearch;
  private readonly apart: Mending;
  private readonly free: readonly SettingCode[];
  /** rules that parts can be left to mend */
  private readonly leaveable: ReadonlySet<SettingRule>;

  constructor(
    private readonly prover: Prover,
    private readonly facts: CircuitFacts,
    private readonly records: Records,
    private readonly place: Place = AS_IT_IS,
  ) {
    const { begun, fixed } = place;
    this.apart = new Mending(prover, facts, begun);
    this.apart.mendSensing();
    const sensing = this.apart.changes.reduce((made, change) => prover.change(made, change), facts);
    this.search = new SettingsSearch(prover, sensing, fixed);
    this.free = SETTING_CODES.filter((code) => this.search.levers.has(code) && !fixed.includes(code));
    this.leaveable = new Set(SETTING_RULES.filter((rule) => this.isLeaveable(rule)));
  }

  /** Whether of some checks, that settings have no rule for, each is right or could be mended with what is changed already. */
  canHold(codes: readonly CheckCode[]): boolean {
    return codes.every((code) => SETTING_RULES.some(({ rule }) => rule === code) || this.apart.canMend(code));
  }

  get levers(): SettingsSearch['levers'] {
    return this.search.levers;
  }

  /** A rating, a time and a chart can always be larger; of the rest only what parts mend as it stands. */
  private isLeaveable(rule: SettingRule): boolean {
    const { rule: code, isLeftToParts, isAlone, isWithoutPads } = rule;
    if (isLeftToParts === true) return true;
    if (code === 'attainable' || code === 'restarts-below' || isAlone === true || isWithoutPads === true) return false;
    return !this.search.isKept(rule, new Map()) && this.apart.canMend(code);
  }

  find(): Attempted {
    const all = { free: this.free, left: this.leaveable };
    const most = this.fit(all);
    if ('inTheWay' in most)
      return {
        inTheWay: CHECK_CODES.filter((code) => most.inTheWay.some(({ rule }) => rule === code)),
        isShown: most.isShown,
      };
    this.apart.mend(APART);
    return this.findFewest(this.takeAway(all));
  }

  /** What is not needed is taken away, what costs most first: none of what is left can be spared. */
  private takeAway(all: Trial): Trial {
    const isFit = (trial: Trial): boolean => 'ranges' in this.fit(trial);
    let kept: Trial = all;
    for (const code of [...all.free].reverse()) {
      const without = { ...kept, free: kept.free.filter((one) => one !== code) };
      if (isFit(without)) kept = without;
    }
    for (const rule of all.left) {
      const without = { ...kept, left: new Set([...kept.left].filter((one) => one !== rule)) };
      if (isFit(without)) kept = without;
    }
    return kept;
  }

  /** Whether fewer will do, by their number: each that does not fit names what is in its way, and one thing more is tried against that. */
  private findFewest(enough: Trial): Found {
    const least = this.apart.changes.length;
    let best = this.mend(enough);
    // Of whatever holds one of these lies within: it takes no fewer changes than that.
    const open: Trial[] = [{ free: [], left: new Set() }];
    const fits: Trial[] = [enough];
    const seen = new Set<string>([keyOf(enough)]);
    const most = this.place.fixed.length === 0 ? MOST_TRIED : MOST_TRIED_AT_PLACE;
    for (let tried = 0; tried < most; tried += 1) {
      open.sort((a, b) => sizeOf(a) - sizeOf(b));
      const [trial] = open;
      if (trial === undefined || (best.bad.length === 0 && sizeOf(trial) + least >= best.cost)) break;
      open.shift();
      const fit = this.fit(trial);
      if ('ranges' in fit) {
        const found = this.mend(trial);
        if (isBetter(found, best)) best = found;
        fits.push(trial);
        continue;
      }
      for (const next of this.listNext(trial, fit.inTheWay)) {
        if (seen.has(keyOf(next))) continue;
        seen.add(keyOf(next));
        open.push(next);
      }
    }
    return { ...best, least: Math.min(...[...open, ...fits].map(leastOf)) };
  }

  private fit({ free, left }: Trial, isDrawnOut = false): Fit {
    const rules = SETTING_RULES.filter((rule) => !left.has(rule));
    return this.search.fit(free, rules, isDrawnOut);
  }

  private listNext({ free, left }: Trial, inTheWay: readonly SettingRule[]): Trial[] {
    const more = SETTING_CODES.filter(
      (code) => this.free.includes(code) && !free.includes(code) && inTheWay.some(({ wants }) => code in wants),
    );
    return [
      ...more.map((code) => ({ free: SETTING_CODES.filter((one) => one === code || free.includes(one)), left })),
      ...inTheWay.filter((rule) => this.leaveable.has(rule)).map((rule) => ({ free, left: new Set([...left, rule]) })),
    ];
  }

  private mend(trial: Trial): Found {
    // It was found to fit already.
    const { ranges } = this.fit(trial, true) as { ranges: Ranges };
    const mending = new Mending(this.prover, this.facts, this.apart.changes);
    mending.begin(ranges, this.search.levers);
    mending.mendAll();
    const checks = mending.proveAll();
    const cost = mending.changes.length + this.records.countNew(checks);
    return { changes: mending.changes, bad: checks.filter(isBad), records: listRecords(checks), cost, least: 0 };
  }
}
