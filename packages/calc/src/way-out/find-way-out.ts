import type { CircuitFacts } from '../circuit-facts/circuit-facts.types.js';
import type { LadderCheck, LadderMissing } from '../pressure-ladder/pressure-ladder.types.js';
import { applyChange } from './apply-change.js';
import { Fewest } from './fewest.js';
import { Mending } from './mending.js';
import { isBad, Prover } from './prover.js';
import { SETTING_CODES, SETTING_RULES, type SettingCode, type SettingRule } from './setting-levers.js';
import { withReach } from './reach.js';
import { SettingsSearch, type Fit, type Ranges } from './settings-search.js';
import type { WayOut, WayOutBound, WayOutChange } from './way-out.types.js';

/** So many combinations of settings are tried before all of them are set at once. */
const MOST_TRIED = 24;
/** Checks that nothing that is set decides: what mends them is the same whatever is set. */
const APART = ['control-wiring', 'interlock-sound', 'reservoir'] as const;

/** A combination to be tried: settings that may move, and rules that parts are left to mend. */
interface Trial {
  readonly free: readonly SettingCode[];
  readonly left: ReadonlySet<SettingRule>;
}
/** What was found, and what of it is still wrong. */
interface Found {
  readonly changes: readonly WayOutChange[];
  readonly bad: readonly LadderCheck[];
  readonly records: readonly LadderMissing[];
  /** how much there is to do, and to find out that was known before */
  readonly cost: number;
}
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

const nameOf = ({ field, ref }: LadderMissing): string => [field, ref?.entity, ref?.id, ref?.name].join();

/** What has to be found out before the checks that are not proven can be, each figure once. */
function listRecords(checks: readonly LadderCheck[]): LadderMissing[] {
  const missing = checks.filter(({ status }) => status === 'unproven').flatMap((check) => check.missing);
  return [...new Map(missing.map((one) => [nameOf(one), one])).values()];
}

/** What it takes, and what there is. */
function toBound(check: LadderCheck): WayOutBound {
  const { code, reason, subject, status, numbers, parameters, loadCase = null } = check;
  const view = status === 'marginal' ? 'worstCase' : 'stated';
  const [pressure, number] = [check[view], numbers?.[view]];
  return {
    ...{ code, reason, subject, loadCase },
    // Whatever is set: what holds the workpiece is more than what it bears.
    demand: reason === 'no-window' ? Number(parameters.requiredPa) : (pressure?.demandPa ?? number?.demand ?? null),
    capacity: pressure?.capacityPa ?? number?.capacity ?? null,
  };
}

class WayOutSearch {
  private readonly prover = new Prover();
  private readonly search: SettingsSearch;
  private readonly apart: Mending;
  private readonly checks: readonly LadderCheck[];
  private readonly known: ReadonlySet<string>;
  /** rules that parts can be left to mend */
  private readonly leaveable: ReadonlySet<SettingRule>;

  constructor(private readonly facts: CircuitFacts) {
    this.checks = this.prover.prove(facts);
    this.known = new Set(this.checks.flatMap(({ missing }) => missing.map(nameOf)));
    this.apart = new Mending(this.prover, facts);
    this.apart.mendSensing();
    const sensing = this.apart.changes.reduce((made, change) => applyChange(made, change), facts);
    this.search = new SettingsSearch(this.prover, sensing);
    this.leaveable = new Set(SETTING_RULES.filter((rule) => this.isLeaveable(rule)));
  }

  /** A rating, a time and a chart can always be larger; of the rest only what parts mend as it stands. */
  private isLeaveable(rule: SettingRule): boolean {
    const { rule: code, isLeftToParts, isAlone } = rule;
    if (isLeftToParts === true) return true;
    if (code === 'attainable' || code === 'restarts-below' || isAlone === true) return false;
    return !this.search.isKept(rule, new Map()) && this.apart.canMend(code);
  }

  find(): WayOut {
    if (!this.checks.some(isBad)) {
      const records = listRecords(this.checks);
      return {
        outcome: records.length === 0 ? 'nothing' : 'to-record',
        changes: [],
        isFewest: true,
        records,
        bounds: [],
      };
    }
    const all = { free: SETTING_CODES.filter((code) => this.search.levers.has(code)), left: this.leaveable };
    const most = this.fit(all);
    if ('inTheWay' in most) return this.tellNone(most.inTheWay.map(({ rule }) => rule));
    this.apart.mend(APART);
    const found = this.findFewest(this.takeAway(all));
    if (found.bad.length > 0) return this.tellNone(found.bad.map(({ code }) => code));
    const { changes, isFewest, records } = this.provedFewest(found);
    return {
      outcome: records.length > 0 ? 'to-record' : 'whole',
      changes: withReach(this.facts, changes),
      isFewest,
      records,
      bounds: [],
    };
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
  private findFewest(enough: Trial): Found & { least: number } {
    const least = this.apart.changes.length;
    let best = this.mend(enough);
    // Of whatever holds one of these lies within: it takes no fewer changes than that.
    const open: Trial[] = [{ free: [], left: new Set() }];
    const fits: Trial[] = [enough];
    const seen = new Set<string>([keyOf(enough)]);
    for (let tried = 0; tried < MOST_TRIED; tried += 1) {
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

  /** One change in its place if there is one, else two; and whether it is shown that no fewer do than are told. */
  private provedFewest(found: Found & { least: number }): Found & { isFewest: boolean } {
    const toCost = (checks: readonly LadderCheck[], changes: number): number => changes + this.countNew(checks);
    // What is left to be found out is no saving.
    const isAsGood = (checks: readonly LadderCheck[], changes: number): boolean =>
      !checks.some(isBad) && toCost(checks, changes) < found.cost && listRecords(checks).length <= found.records.length;
    const fewest = new Fewest(this.prover, this.facts, this.search.levers, isAsGood);
    const least = Math.max(fewest.findLeast(found.cost), found.least + fewest.findLeastApart());
    const toFound = (changes: readonly WayOutChange[]): Found => {
      const checks = this.prover.prove(changes.reduce((made, change) => applyChange(made, change), this.facts));
      return { changes, bad: [], records: listRecords(checks), cost: toCost(checks, changes.length) };
    };
    if (least >= found.cost) return { ...found, isFewest: true };
    const { changes, isFewest } = fewest.findFewer(least, found.cost);
    return { ...(changes === null ? found : toFound(changes)), isFewest };
  }

  /** What was not known before has to be found out whatever is done. */
  private countNew(checks: readonly LadderCheck[]): number {
    return listRecords(checks).filter((record) => !this.known.has(nameOf(record))).length;
  }

  private fit({ free, left }: Trial, isDrawnOut = false): Fit {
    const rules = SETTING_RULES.filter((rule) => !left.has(rule));
    return this.search.fit(free, rules, isDrawnOut);
  }

  private listNext({ free, left }: Trial, inTheWay: readonly SettingRule[]): Trial[] {
    const more = SETTING_CODES.filter(
      (code) => this.search.levers.has(code) && !free.includes(code) && inTheWay.some(({ wants }) => code in wants),
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
    const records = listRecords(checks);
    const cost = mending.changes.length + this.countNew(checks);
    return { changes: mending.changes, bad: checks.filter(isBad), records, cost };
  }

  /** What is told is how the checks stand, not how they would with some of the changes made. */
  private tellNone(codes: readonly string[]): WayOut {
    const bounds = this.checks.filter(({ code }) => codes.includes(code)).map(toBound);
    return { outcome: 'none', changes: [], isFewest: false, records: listRecords(this.checks), bounds };
  }
}

/**
 * What makes every check of a circuit hold: the fewest changes found that do, each with the range in which it does; what has to be recorded
 * first, where something is not known; and what bounds it, where no change does. Deterministic; never throws.
 */
export const findWayOut = (facts: CircuitFacts): WayOut => new WayOutSearch(facts).find();
