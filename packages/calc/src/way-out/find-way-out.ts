import type { CheckCode } from '../circuit-checks/checks.js';
import type { CircuitFacts } from '../circuit-facts/circuit-facts.types.js';
import { asItStands } from '../circuit-facts/reading-conditions.js';
import type { ProvedCheck } from '../pressure-ladder/pressure-ladder.types.js';
import { Attempt, type Attempted, type Found } from './attempt.js';
import { Fewest } from './fewest.js';
import { listPlaces, listSwitches, type Place } from './places.js';
import { isBad, Prover } from './prover.js';
import { withReach } from './reach.js';
import { listRecords, Records } from './records.js';
import type { WayOut, WayOutBound, WayOutChange } from './way-out.types.js';

/** What it takes, and what there is. */
function toBound(check: ProvedCheck): WayOutBound {
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

const codesOf = (checks: readonly ProvedCheck[]): CheckCode[] => checks.map(({ code }) => code);
const isWay = (tried: Attempted): tried is Found => 'bad' in tried && tried.bad.length === 0;
const inTheWayOf = (tried: Attempted): readonly CheckCode[] => ('bad' in tried ? codesOf(tried.bad) : tried.inTheWay);

class WayOutSearch {
  private readonly prover = new Prover();
  private readonly checks: readonly ProvedCheck[];
  private readonly records: Records;
  private readonly usual: Attempt;

  private readonly facts: CircuitFacts;

  constructor(recorded: CircuitFacts) {
    // What was left on hardware that is gone is to be recorded first: no change of something else makes it known.
    this.facts = asItStands(recorded);
    this.checks = this.prover.prove(this.facts);
    this.records = new Records(this.checks);
    this.usual = new Attempt(this.prover, this.facts, this.records);
  }

  find(): WayOut {
    if (!this.checks.some(isBad)) {
      const records = listRecords(this.checks);
      const outcome = records.length === 0 ? 'nothing' : 'to-record';
      return { outcome, changes: [], isFewest: true, records, bounds: [] };
    }
    const tried = this.usual.find();
    const named = new Set(inTheWayOf(tried));
    const found = isWay(tried) ? tried : this.findElsewhere(tried, named);
    if (found === null) return this.tellNone(named);
    const { changes, isFewest, records } = this.provedFewest(found);
    return {
      outcome: records.length > 0 ? 'to-record' : 'whole',
      changes: withReach(this.facts, changes),
      isFewest,
      records,
      bounds: [],
    };
  }

  /**
   * Where it was read and, unless it is shown that there is none, at each of its settings; null: there is no way out there either. Wherever all
   * that is named is right at once something else is in the way, and is named too.
   */
  private findElsewhere(usual: Attempted, named: Set<CheckCode>): Found | null {
    const isShown = 'isShown' in usual && usual.isShown;
    const { levers } = this.usual;
    const places = listPlaces(this.facts, levers)
      // What is shown is shown of every setting; what was measured counts at one.
      .filter(({ isAsRead }) => isAsRead || !isShown)
      .filter((place) => this.begin(place).canHold(inTheWayOf(usual)));
    for (const place of [...places, ...places.flatMap((one) => listSwitches(one, levers))]) {
      const facts = place.begun.reduce((made, change) => this.prover.change(made, change), this.facts);
      const isRight = !this.prover.prove(facts, [...named]).some(isBad);
      if (place.fixed.includes('switch') && !isRight) continue;
      const tried = this.begin(place).find();
      if (isWay(tried)) return { ...tried, least: 0 };
      if (!isRight) continue;
      const bad = codesOf(this.prover.prove(facts).filter(isBad));
      const known = bad.filter((code) => inTheWayOf(tried).includes(code));
      for (const code of [...known, ...bad].slice(0, Math.max(1, known.length))) named.add(code);
    }
    return null;
  }

  private begin(place: Place): Attempt {
    return new Attempt(this.prover, this.facts, this.records, place);
  }

  private toCost(checks: readonly ProvedCheck[], changes: number): number {
    return changes + this.records.countNew(checks);
  }

  private toFound(changes: readonly WayOutChange[], checks: readonly ProvedCheck[]): Found {
    const cost = this.toCost(checks, changes.length);
    return { changes, bad: [], records: listRecords(checks), cost, least: 0 };
  }

  /** One change in its place if there is one, else two; and whether it is shown that no fewer do than are told. */
  private provedFewest(found: Found): Found & { isFewest: boolean } {
    // What is left to be found out is no saving.
    const isAsGood = (checks: readonly ProvedCheck[], changes: number): boolean =>
      !checks.some(isBad) &&
      this.toCost(checks, changes) < found.cost &&
      listRecords(checks).length <= found.records.length;
    const fewest = new Fewest(this.prover, this.facts, this.usual.levers, isAsGood);
    const least = Math.max(fewest.findLeast(found.cost), found.least + fewest.findLeastApart());
    if (least >= found.cost) return { ...found, isFewest: true };
    const { changes, isFewest } = fewest.findFewer(least, found.cost);
    if (changes === null) return { ...found, isFewest };
    const made = changes.reduce((before, change) => this.prover.change(before, change), this.facts);
    return { ...this.toFound(changes, this.prover.prove(made)), isFewest };
  }

  /** What is told is how the checks stand, not how they would with some of the changes made. */
  private tellNone(named: ReadonlySet<CheckCode>): WayOut {
    const bounds = this.checks.filter(({ code }) => named.has(code)).map(toBound);
    return { outcome: 'none', changes: [], isFewest: false, records: listRecords(this.checks), bounds };
  }
}

/**
 * What makes every check of a circuit hold: the fewest changes found that do, each with the range in which it does; what has to be recorded
 * first, where something is not known; and what bounds it, where no change does. Deterministic; never throws.
 */
export const findWayOut = (facts: CircuitFacts): WayOut => new WayOutSearch(facts).find();
