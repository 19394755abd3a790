import { CHECK_CODES, isRight, type CheckCode, type CheckReason } from '../circuit-checks/checks.js';
import type { CircuitFacts } from '../circuit-facts/circuit-facts.types.js';
import type { ProvedCheck } from '../pressure-ladder/pressure-ladder.types.js';
import { toAnswer } from './apply-change.js';
import { CHANGE_CODES, CHANGES, type ChangeCode } from './changes.js';
import { figuresBetween } from './between.js';
import { idOf, toLever, type Lever } from './levers.js';
import { keyOf, listBadPairs, listMends, type BadPair } from './mends.js';
import { type Prover } from './prover.js';
import { asksTooMuch, SETTING_CODES, type SettingCode, type SettingLever } from './setting-levers.js';
import type { Ranges } from './settings-search.js';
import { BAR, findNearest, findRun, listSteps } from './steps.js';
import type { WayOutChange } from './way-out.types.js';

/** Reasons that say how near it is, not what it is. */
const NEARNESS: ReadonlySet<CheckReason> = new Set(['inside-margin', 'gauge-error-decides', 'probability-too-low']);
/** Reasons that no figure is near to. */
const ANSWERS: ReadonlySet<CheckReason> = new Set(['not-proved-again', 'open-not-proved']);
const isNear = (a: BadPair, b: BadPair): boolean => NEARNESS.has(a.reason) && !ANSWERS.has(b.reason);
/** The same part of a check, be it that it fails or is only too near. */
const isSamePart = (a: BadPair, b: BadPair): boolean =>
  a.code === b.code &&
  a.governing === b.governing &&
  a.subject?.id === b.subject?.id &&
  a.subject?.name === b.subject?.name &&
  (a.reason === b.reason || isNear(a, b) || isNear(b, a));

/** A spring holds a clamp back, a wider line holds more oil, and clamps that move sooner move too fast one day. */
const EXACT: ReadonlySet<ChangeCode> = new Set([
  'spring-force',
  'line-bore',
  'flow-to-cylinders',
  'flow-from-cylinders',
  'throttle-return',
]);
/** Between these two a relief has to open. */
const AROUND_RELIEF: ReadonlySet<BadPair['governing']> = new Set(['source', 'relief-opening']);
/** What is asked for where nobody has read it, or not with oil as warm as at work. */
const READ_WHILE_SHARED: ReadonlySet<string> = new Set(['lowestPressurePa', 'lowestPressureAtWorkPa']);
const SEVERITY = { fails: 3, marginal: 2, unproven: 1, holds: 0, 'not-applicable': 0 } as const;
/** The one that stands worse; of two that lack something, with all that either lacks: it has to be recorded, wherever in their ranges they are. */
function toWorse(worst: ProvedCheck, check: ProvedCheck): ProvedCheck {
  if (SEVERITY[check.status] !== SEVERITY[worst.status])
    return SEVERITY[check.status] > SEVERITY[worst.status] ? check : worst;
  return check.status === 'unproven' ? { ...worst, missing: [...worst.missing, ...check.missing] } : worst;
}
/** So many parts are mended one after the other; no circuit has as many that are wrong. */
const MOST_MENDED = 60;
/** Corners beyond these are left out: the ends of all settings are among them. */
const inOrder = (changes: readonly WayOutChange[]): WayOutChange[] =>
  [...changes].sort((a, b) => CHANGE_CODES.indexOf(a.code) - CHANGE_CODES.indexOf(b.code));
const endsOf = ({ lowest, highest }: WayOutChange): readonly (number | undefined)[] => {
  const ends = [lowest, highest].filter((end) => end !== null);
  return ends.length === 0 ? [undefined] : [...new Set(ends)];
};

const isSet = ({ code }: WayOutChange): boolean => (SETTING_CODES as readonly string[]).includes(code);
/** Of two ends one; of one end there is no other. */
function toEnd(change: WayOutChange, end: 'lowest' | 'highest'): WayOutChange {
  const { lowest, highest } = change;
  if (lowest === null || highest === null) return change;
  return { ...change, lowest: change[end], highest: change[end] };
}

/** A tolerance may be less than what is told; a larger pump lifts too high one day. */
function toEnds(
  { lever, step, lowest }: SettingLever,
  low: number,
  high: number,
): Pick<WayOutChange, 'lowest' | 'highest'> {
  const { way } = CHANGES[lever.code];
  const isOpen = way === 'down' && low === Math.ceil(lowest / step);
  return { lowest: isOpen ? null : low * step, highest: high * step };
}

/** Changes of parts, one after the other, until nothing is wrong that a change can mend, wherever in their ranges the others are. */
export class Mending {
  changes: WayOutChange[] = [];
  /** the circuit at every corner of the ranges */
  private corners: CircuitFacts[];

  constructor(
    private readonly prover: Prover,
    private readonly facts: CircuitFacts,
    begun: readonly WayOutChange[],
  ) {
    this.corners = [facts];
    this.take(begun);
  }

  begin(ranges: Ranges, levers: ReadonlyMap<SettingCode, SettingLever>): void {
    this.take(
      [...ranges].map(([code, { low, high }]) => {
        const setting = levers.get(code) as SettingLever;
        return { ...setting.lever, ...toEnds(setting, low, high) };
      }),
    );
  }

  /** First of all: a switch that senses nothing of the clamps decides nothing by its points. */
  mendSensing(): void {
    const pair = this.listBad().find(({ reason }) => reason === 'switch-senses-supply');
    if (pair !== undefined) this.take(this.mendPart(pair));
  }

  /** Of some checks: of each once more, since what mends one can undo another. */
  mend(codes: readonly CheckCode[]): void {
    const given = new Set<string>();
    for (const code of [...codes, ...codes]) this.mendCheck(code, given);
  }

  mendAll(): void {
    this.mend(CHECK_CODES);
    this.readAgain();
    this.leaveOut();
  }

  /** Whether one change of a part mends a check as it stands. */
  canMend(code: CheckCode): boolean {
    return this.listBad([code]).every((pair) => this.mendPart(pair).length > 0);
  }

  private mendCheck(code: CheckCode, given: Set<string>): void {
    for (let round = 0; round < MOST_MENDED; round += 1) {
      const pair = this.listBad([code]).find((bad) => !given.has(keyOf(bad)));
      if (pair === undefined) return;
      const changes = this.mendPart(pair);
      if (changes.length === 0) given.add(keyOf(pair));
      else this.take(changes);
    }
  }

  /** Each check as it stands where it stands worst. */
  proveAll(): ProvedCheck[] {
    return this.proveOf(this.corners);
  }

  private proveOf(corners: readonly CircuitFacts[]): ProvedCheck[] {
    const proofs = corners.map((facts) => this.prover.prove(facts));
    return CHECK_CODES.map((_code, index) => proofs.map((checks) => checks[index] as ProvedCheck).reduce(toWorse));
  }

  private take(changes: readonly WayOutChange[]): void {
    this.changes = this.with(changes);
    this.corners = this.toCorners(this.changes);
  }

  /** What there is with some more; of the same change the later one, which goes further. */
  private with(changes: readonly WayOutChange[]): WayOutChange[] {
    return inOrder([...new Map([...this.changes, ...changes].map((change) => [idOf(change), change])).values()]);
  }

  private toCorners(changes: readonly WayOutChange[]): CircuitFacts[] {
    // Of what is set every corner; of parts all low and all high, since no two of them serve one check with ranges of their own.
    const corners = [0, -1].flatMap((end) =>
      changes.reduce(
        (made, change) => {
          const ends = isSet(change) ? endsOf(change) : [endsOf(change).at(end)];
          return ends.flatMap((figure) => made.map((facts) => this.prover.change(facts, change, figure)));
        },
        [this.facts],
      ),
    );
    const middle = changes.reduce((made, change) => this.prover.change(made, change), this.facts);
    const isOneWay = changes.every((change) => endsOf(change).length === 1);
    return isOneWay ? [middle] : [middle, ...corners];
  }

  private listBad(codes: readonly CheckCode[] = CHECK_CODES, corners = this.corners): BadPair[] {
    const pairs = corners.flatMap((facts) => this.prover.prove(facts, codes).flatMap(listBadPairs));
    return [...new Map(pairs.map((pair) => [keyOf(pair), pair])).values()];
  }

  /** The one change that mends a part of a check and most beside it; where none does alone, all that say yes or no together; else none. */
  private mendPart(pair: BadPair): WayOutChange[] {
    // By what is recorded: what is changed already goes further from there.
    const levers = listMends(this.facts, pair).filter(
      (lever) => CHANGES[lever.code].way !== 'only' || !this.changes.some((change) => idOf(change) === idOf(lever)),
    );
    let best: { change: WayOutChange; left: number } | null = null;
    for (const lever of levers) {
      const change = this.reach(lever, pair);
      if (change === null) continue;
      const left = this.listBad([pair.code], this.toCorners(this.with([change]))).length;
      if (best === null || left < best.left) best = { change, left };
      if (left === 0) break;
    }
    if (best !== null) return [best.change];
    const only = levers
      .filter(({ code }) => CHANGES[code].way === 'only')
      .map((lever) => ({ ...lever, lowest: null, highest: null }));
    const together = this.toCorners(this.with(only));
    return this.listBad([pair.code], together).some((bad) => isSamePart(bad, pair)) ? [] : only;
  }

  /** How far a change has to go; null: it mends nothing, however far. */
  private reach(lever: Lever, pair: BadPair): WayOutChange | null {
    const corners = [...this.corners];
    const isMended = (value: number | string | boolean): boolean => {
      const worst = corners.findIndex((facts) => {
        const bad = this.prover.prove(this.prover.set(facts, lever, value), [pair.code]).flatMap(listBadPairs);
        return bad.some((one) => isSamePart(one, pair) || (isRelief && AROUND_RELIEF.has(one.governing)));
      });
      // Where one figure mends nothing the next one is likely not to either: it is looked at there first.
      corners.unshift(...corners.splice(Math.max(0, worst), 1));
      return worst < 0;
    };
    const isRelief = lever.code === 'relief' || lever.code === 'fit-relief';
    const { way } = CHANGES[lever.code];
    if (way === 'only') return isMended(toAnswer(lever.choice)) ? { ...lever, lowest: null, highest: null } : null;
    if (way === 'between') {
      const run = findRun(figuresBetween(this.facts, lever, pair, this.corners), isMended);
      return run === null ? null : { ...lever, ...run };
    }
    const made = this.changes.find((change) => idOf(change) === idOf(lever));
    const from = made?.lowest ?? made?.highest ?? lever.from;
    const nearest = findNearest(listSteps({ ...lever, from }, way), isMended);
    if (nearest === null) return null;
    if (way === 'down') return { ...lever, lowest: null, highest: nearest };
    return { ...lever, lowest: nearest, highest: this.isExact(lever) ? nearest : null };
  }

  /** More of it is not only better: a support carries its load at its rating. */
  private isExact({ code, holder, id }: Lever): boolean {
    if (EXACT.has(code)) return true;
    const kind =
      holder === 'element'
        ? this.facts.fixture?.elements.find((one) => one.id === id)?.kind
        : this.facts.components.find((one) => one.id === id)?.kind;
    return code === 'rating' && (kind === 'support' || kind === 'work-support');
  }

  /** What holds only once it has been read again is read again: how low it may then be is known before. */
  private readAgain(): void {
    const field: ChangeCode = 'shared-lowest';
    const isOpen = this.corners.some((facts) =>
      this.prover
        .prove(facts, ['shared-supply'])
        .some(
          ({ status, missing }) =>
            status === 'unproven' && missing.every(({ field: name }) => READ_WHILE_SHARED.has(name)),
        ),
    );
    const { inUse, readings } = this.facts.settings;
    if (!isOpen || inUse === null || readings === null || this.changes.some(({ code }) => code === field)) return;
    const from = readings.lowestWhileSharedPa;
    const lever = toLever(field, { holder: 'readings', field: 'lowestWhileSharedPa', from });
    const steps = Array.from({ length: 60 }, (_, index) => (index + 10) * 5 * BAR);
    const isProved = (value: number): boolean =>
      this.corners.every((facts) =>
        this.prover.prove(this.prover.set(facts, lever, value), ['shared-supply']).every(isRight),
      );
    this.take(
      steps
        .filter(isProved)
        .slice(0, 1)
        .map((lowest) => ({ ...lever, lowest, highest: null })),
    );
  }

  /** What is not needed after all is left out. */
  private leaveOut(): void {
    const before = this.proveAll();
    const isNoWorse = (corners: readonly CircuitFacts[]): boolean =>
      !corners.some((facts) => asksTooMuch(facts, this.facts)) &&
      this.proveOf(corners).every(
        (check, index) => SEVERITY[check.status] <= SEVERITY[(before[index] as ProvedCheck).status],
      );
    for (const spare of this.changes) {
      const left = this.changes.filter((other) => other !== spare);
      const corners = this.toCorners(left);
      // One state in which it is missed is enough.
      if (!isNoWorse(corners.slice(0, 1))) continue;
      const changes = isNoWorse(corners) ? left : this.bringNearer(left, isNoWorse);
      if (changes === null) continue;
      this.changes = changes;
      this.corners = this.toCorners(changes);
      this.leaveOut();
      return;
    }
  }

  /** What is missed only where others lie at opposite ends can be left out if one of these is set to one end; null: it is missed at the same ends too. */
  private bringNearer(
    left: WayOutChange[],
    isNoWorse: (corners: readonly CircuitFacts[]) => boolean,
  ): WayOutChange[] | null {
    const [atLow, atHigh] = [left.map((one) => toEnd(one, 'lowest')), left.map((one) => toEnd(one, 'highest'))];
    if (!isNoWorse([...this.toCorners(atLow), ...this.toCorners(atHigh)])) return null;
    // What is set keeps its room first.
    return [...left]
      .sort((a, b) => Number(isSet(b)) - Number(isSet(a)))
      .reduce((made, change) => {
        const wider = made.map((one) => (idOf(one) === idOf(change) ? change : one));
        return isNoWorse(this.toCorners(wider)) ? wider : made;
      }, atHigh);
  }
}
