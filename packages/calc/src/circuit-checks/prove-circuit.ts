import { byHolding } from '../pressure-ladder/pressure-checks.js';
import { findFigures, type PressureFigures } from '../pressure-ladder/pressure-figures.js';
import { listReliefs, toLowestOpening } from '../pressure-ladder/relief-bounds.js';
import { listRungs } from '../pressure-ladder/pressure-rungs.js';
import { findWindow } from '../pressure-ladder/setting-window.js';
import { findWorstStatus, PRESSURE_RULES } from '../pressure-ladder/pressure-ladder.js';
import type {
  ProvedCheck,
  PressureCheckCode,
  PressureLadderInput,
  PressureLadderResult,
} from '../pressure-ladder/pressure-ladder.types.js';
import { isExact, known, leastOf, multiply, toSpan, ZERO } from '../pressure-ladder/span.js';
import { actuate } from './actuation.js';
import type { ActuationInput, ActuationResult } from './actuation.types.js';
import { CHECK_CODES, type CheckCode } from './checks.js';
import { PART_RULES, toProvedCheck, withPairs, type Computed, type PartChecksInput } from './part-checks.js';
import { findLeakBehind, type Store } from './leak-behind.js';
import { listMissing } from './judge-pairs.js';
import { checkSharedSupply, type SharingCircuit } from './supply-checks.js';
import { checkHoldsWithoutSupply, type HoldsWithoutSupplyInput } from './without-supply-check.js';

/** A circuit's pressure ladder, what it shares with others, and how it stands without supply. */
export interface SupplyProofInput {
  pressureLadder: PressureLadderInput;
  sharedSupply: {
    /** other circuits of the same power unit: lowest pressure in this circuit while that one clamps [Pa]; null: not known */
    others: readonly SharingCircuit[];
    /** error of the gauge that they were read on, where another one sets this circuit; null: not known; left out: the same [Pa] */
    readingErrorPa?: number | null;
  };
  withoutSupply: {
    /** the circuit is at times without its supply: a decoupled pallet, a circuit held by check valves; null: nobody has said */
    isDecoupled: boolean | null;
    /** the longest that it is without [s] */
    timeWithoutS: number | null;
    /** cooling to be reckoned with in that time [K], not below zero */
    coolingK: number | null;
    /** pressure is proved again before the pallet enters the machine */
    isProvedAgain: boolean | null;
    /** accumulators whose gas gives way with the oil that is shut in; left out: there is none */
    stores?: readonly Store[];
  };
  /** per check: margin asked for as a share of the capacity [1], 0 <= margin < 1 */
  marginsAsked: Readonly<Record<'shared-supply' | 'holds-without-supply', number>>;
}
/** All that a circuit is proved from. */
export type CircuitProofInput = SupplyProofInput & PartChecksInput;

/** A circuit whose checks are asked for, one or all: each is made from what it needs and no more. */
interface Asked {
  readonly figures: PressureFigures;
  readonly input: () => CircuitProofInput;
  readonly computed: () => Computed;
}
const beside =
  (rule: (input: CircuitProofInput, computed: Computed) => ProvedCheck) =>
  ({ input, computed }: Asked): ProvedCheck =>
    rule(input(), computed());
const ofLadder =
  (code: PressureCheckCode) =>
  ({ figures }: Asked): ProvedCheck =>
    PRESSURE_RULES[code](figures);

/** The rule of every check: there is no other place from which a circuit is judged. */
const RULES: Readonly<Record<CheckCode, (asked: Asked) => ProvedCheck>> = {
  'holds-workpiece': ofLadder('holds-workpiece'),
  'no-nuisance-stop': ofLadder('no-nuisance-stop'),
  'setting-within-rating': ofLadder('setting-within-rating'),
  'highest-within-rating': ofLadder('highest-within-rating'),
  'clamping-time': beside(PART_RULES['clamping-time']),
  unclamping: beside(PART_RULES.unclamping),
  'control-wiring': beside(PART_RULES['control-wiring']),
  'interlock-sound': beside(PART_RULES['interlock-sound']),
  'workpiece-limit': ofLadder('workpiece-limit'),
  'shared-supply': beside(judgeSharedSupply),
  'holds-without-supply': beside(judgeWithoutSupply),
  'order-and-speed': beside(PART_RULES['order-and-speed']),
  reservoir: beside(PART_RULES.reservoir),
};

function judgeSharedSupply(
  { pressureLadder: ladder, sharedSupply, marginsAsked }: SupplyProofInput,
  { lift }: Pick<Computed, 'lift'>,
): ProvedCheck {
  const check = checkSharedSupply({
    // A restart, or a reading, above the lowest of the setting is no pressure that the circuit surely has.
    ...(ladder.isFromFacts === true
      ? { ceiling: { settingPa: ladder.settingPa, settingHalfWidthPa: ladder.settingHalfWidthPa, lift } }
      : {}),
    leastProbability: ladder.leastProbability,
    resetPointPa: ladder.resetPointPa,
    switchAccuracyPa: ladder.switchAccuracyPa,
    gaugeErrorPa: ladder.gaugeErrorPa,
    restartPressurePa: ladder.pump.restartPressurePa,
    restartHalfWidthPa: ladder.pump.restartHalfWidthPa,
    others: sharedSupply.others,
    ...(sharedSupply.readingErrorPa === undefined ? {} : { readingErrorPa: sharedSupply.readingErrorPa }),
    marginAsked: marginsAsked['shared-supply'],
  });
  return ladder.isFromFacts === true ? withPairs(check) : toProvedCheck(check);
}

/** What warms up while it is without supply. Where the unclamp line can be blocked anyway, its rise is required already, and it warms up once. */
function findWarming({ input, rise, unclampRise, opposed }: PressureFigures) {
  const isRequired = input.unclampLineBlocked === true;
  const { thinning = { ratio: 1, missing: [] } } = input.thermal;
  return {
    rise: rise.span,
    thinning: toSpan(thinning.ratio),
    leakMissing: [...rise.missing, ...thinning.missing],
    opposed: isRequired ? ZERO : multiply(unclampRise.span, opposed.ratio),
    missing: [...rise.missing, ...(isRequired ? [] : [...unclampRise.missing, ...opposed.missing])],
  };
}

/** Of a leak into the unclamp line, which shuts with the clamp line; of records that kept inputs without what moves it is not reckoned with. */
function toLeakBehind(
  {
    pressureLadder: ladder,
    withoutSupply: { stores = [] },
    actuation,
  }: SupplyProofInput & Partial<Pick<PartChecksInput, 'actuation'>>,
  { opposed }: PressureFigures,
  lowestPa: number | null,
): Pick<HoldsWithoutSupplyInput, 'leakBehind'> {
  if (actuation === undefined || ladder.thermal.canTrapOpen !== true) return {};
  const { bulkModulusPa: clampModulusPa, unclampBulkModulusPa = null } = ladder.thermal;
  const behind = findLeakBehind({
    ...actuation,
    stores,
    clampModulusPa,
    unclampModulusPa: unclampBulkModulusPa,
    lowestPa,
  });
  return {
    leakBehind: { ratio: behind.ratio, missing: [...behind.missing, ...opposed.missing], opposed: opposed.ratio },
  };
}

/** Reliefs that may let out what warms up beyond the shut-off. */
const listLettingOut = (ladder: PressureLadderInput): HoldsWithoutSupplyInput['lettingOut'] =>
  listReliefs(ladder)
    .filter(({ mayLetOutTrappedOil }) => mayLetOutTrappedOil === true)
    .map((relief) => {
      const { ref, openingPressurePa, reseatPressurePa } = relief;
      const opening = toSpan(openingPressurePa);
      return {
        ref,
        opening,
        // Of which nobody knows where it opens may never open.
        reseat: isExact(opening) ? leastOf(opening, toSpan(reseatPressurePa)) : opening,
        reseatMissing: listMissing({ field: 'reseatPressurePa', value: known(reseatPressurePa), ref }),
        halfWidthPa: opening.lo - toLowestOpening(relief).lo,
        missing: listMissing({ field: 'openingPressurePa', value: openingPressurePa, ref }),
      };
    });

function judgeWithoutSupply(
  input: SupplyProofInput & Partial<Pick<PartChecksInput, 'actuation'>>,
  { figures, lift }: Pick<Computed, 'figures' | 'lift'>,
): ProvedCheck {
  const { pressureLadder: ladder, withoutSupply, marginsAsked } = input;
  const { netExpansionPerK, bulkModulusPa } = ladder.thermal;
  const requiredPressurePa = findWindow(figures).lowPa;
  const { sensesClamps, isFromFacts, pump } = ladder;
  const check = checkHoldsWithoutSupply({
    ...withoutSupply,
    ...(sensesClamps === undefined ? {} : { sensesClamps }),
    ...(isFromFacts === true
      ? {
          restart: { pressurePa: pump.restartPressurePa, halfWidthPa: pump.restartHalfWidthPa },
          lift,
          requiredAtLeastPa: figures.required.span.lo,
          requiredSpreadsPa: figures.required.spreadsPa,
          warming: findWarming(figures),
          lettingOut: listLettingOut(ladder),
          ...toLeakBehind(input, figures, requiredPressurePa),
        }
      : {}),
    leastProbability: ladder.leastProbability,
    requiredPressurePa,
    settingPa: ladder.settingPa,
    settingHalfWidthPa: ladder.settingHalfWidthPa,
    gaugeErrorPa: ladder.gaugeErrorPa,
    decayRatePaPerS: ladder.hold.decayRatePaPerS,
    pressurePerKelvinPaPerK:
      netExpansionPerK === null || bulkModulusPa === null ? null : netExpansionPerK * bulkModulusPa,
    marginAsked: marginsAsked['holds-without-supply'],
  });
  const row = toProvedCheck(check);
  // Of a circuit that is never without its supply, or of which nobody has said, nothing is claimed.
  return withoutSupply.isDecoupled === true ? byHolding(row, figures.required) : row;
}

/** How a circuit stands, each check made when it is first asked for. */
export class CircuitProof {
  readonly figures: PressureFigures;
  private readonly made = new Map<CheckCode, ProvedCheck>();
  private readonly asked: Asked;

  /** What the checks beside the pressure ladder stand on is made, and moved, only if one of them is asked for. */
  constructor(
    ladder: PressureLadderInput,
    toInput: () => CircuitProofInput,
    move: (actuation: ActuationInput) => ActuationResult = actuate,
  ) {
    const figures = findFigures(ladder);
    const input = once(toInput);
    const moved = once(() => move(input().actuation));
    const computed = once(() => ({ figures, lift: figures.lowestLift.span, moved }));
    this.figures = figures;
    this.asked = { figures, input, computed };
  }

  check(code: CheckCode): ProvedCheck {
    const check = this.made.get(code) ?? RULES[code](this.asked);
    this.made.set(code, check);
    return check;
  }
}

function once<T extends object>(make: () => T): () => T {
  let made: T | undefined;
  return () => (made ??= make());
}

/**
 * The pressure ladder of a circuit with every check, in the order of their numbers.
 * What is not known is never replaced: the check is then `unproven` and says what is missing. Never throws.
 */
export function proveCircuit(input: CircuitProofInput): PressureLadderResult {
  const proof = new CircuitProof(input.pressureLadder, () => input);
  const { figures } = proof;
  const checks = CHECK_CODES.map((code) => proof.check(code));
  return { status: findWorstStatus(checks), window: findWindow(figures), rungs: listRungs(figures), checks };
}

/** The checks that were made of a circuit before there were others: those of its pressure ladder, and of its supply. */
export function proveSupply(input: SupplyProofInput): PressureLadderResult {
  const figures = findFigures(input.pressureLadder);
  const pressureChecks = Object.values(PRESSURE_RULES).map((rule) => rule(figures));
  const computed = { figures, lift: figures.lowestLift.span };
  const checks = [...pressureChecks, judgeSharedSupply(input, computed), judgeWithoutSupply(input, computed)];
  return { status: findWorstStatus(checks), window: findWindow(figures), rungs: listRungs(figures), checks };
}
