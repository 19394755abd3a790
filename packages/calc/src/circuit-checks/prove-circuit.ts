import { findLowestLift, findRequired } from '../pressure-ladder/ladder-figures.js';
import { byHolding } from '../pressure-ladder/ladder-checks.js';
import { findWorstStatus, pressureLadder } from '../pressure-ladder/pressure-ladder.js';
import type {
  FigureRef,
  LadderCheck,
  LadderCheckCode,
  PressureLadderInput,
  PressureLadderResult,
} from '../pressure-ladder/pressure-ladder.types.js';
import { actuate } from './actuation.js';
import type { ActuationResult } from './actuation.types.js';
import { CHECK_CODES, type CheckCode } from './checks.js';
import { PART_RULES, toLadderCheck, withPairs, type Computed, type PartChecksInput } from './part-checks.js';
import { checkHoldsWithoutSupply, checkSharedSupply } from './supply-checks.js';

/** A circuit's pressure ladder, what it shares with others, and how it stands without supply. */
export interface SupplyProofInput {
  pressureLadder: PressureLadderInput;
  sharedSupply: {
    /** other circuits of the same power unit: lowest pressure in this circuit while that one clamps [Pa]; null: not known */
    others: readonly { ref: FigureRef; lowestPressurePa: number | null }[];
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
  };
  /** per check: margin asked for as a share of the capacity [1], 0 <= margin < 1 */
  marginsAsked: Readonly<Record<'shared-supply' | 'holds-without-supply', number>>;
}
/** All that a circuit is proved from. */
export type CircuitProofInput = SupplyProofInput & PartChecksInput;

export type BesideLadder = Exclude<CheckCode, LadderCheckCode>;
/** The rule of every check that the pressure ladder does not make by itself. */
export const RULES = {
  ...PART_RULES,
  'shared-supply': judgeSharedSupply,
  'holds-without-supply': judgeWithoutSupply,
} as const satisfies Readonly<Record<BesideLadder, (input: CircuitProofInput, computed: Computed) => LadderCheck>>;

function judgeSharedSupply(
  { pressureLadder: ladder, sharedSupply, marginsAsked }: SupplyProofInput,
  { lift }: Pick<Computed, 'lift'>,
): LadderCheck {
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
    marginAsked: marginsAsked['shared-supply'],
  });
  return ladder.isFromFacts === true ? withPairs(check) : toLadderCheck(check);
}

function judgeWithoutSupply(
  { pressureLadder: ladder, withoutSupply, marginsAsked }: SupplyProofInput,
  { window, lift }: Pick<Computed, 'window' | 'lift'>,
): LadderCheck {
  const { netExpansionPerK, bulkModulusPa } = ladder.thermal;
  const { sensesClamps, isFromFacts, pump } = ladder;
  const check = checkHoldsWithoutSupply({
    ...withoutSupply,
    ...(sensesClamps === undefined ? {} : { sensesClamps }),
    ...(isFromFacts === true
      ? {
          restart: { pressurePa: pump.restartPressurePa, halfWidthPa: pump.restartHalfWidthPa },
          lift,
          requiredAtLeastPa: findRequired(ladder).span.lo,
        }
      : {}),
    leastProbability: ladder.leastProbability,
    requiredPressurePa: window.lowPa,
    settingPa: ladder.settingPa,
    settingHalfWidthPa: ladder.settingHalfWidthPa,
    gaugeErrorPa: ladder.gaugeErrorPa,
    decayRatePaPerS: ladder.hold.decayRatePaPerS,
    pressurePerKelvinPaPerK:
      netExpansionPerK === null || bulkModulusPa === null ? null : netExpansionPerK * bulkModulusPa,
    marginAsked: marginsAsked['holds-without-supply'],
  });
  const row = toLadderCheck(check);
  // Of a circuit that is never without its supply, or of which nobody has said, nothing is claimed.
  return withoutSupply.isDecoupled === true ? byHolding(row, findRequired(ladder)) : row;
}

/**
 * The pressure ladder of a circuit with every check, in the order of their numbers.
 * What is not known is never replaced: the check is then `unproven` and says what is missing. Never throws.
 */
export function proveCircuit(input: CircuitProofInput): PressureLadderResult {
  const { window, rungs, checks: ladderChecks } = pressureLadder(input.pressureLadder);
  let movement: ActuationResult | undefined;
  const lift = findLowestLift(input.pressureLadder).span;
  const computed = { window, lift, moved: (): ActuationResult => (movement ??= actuate(input.actuation)) };
  const made = new Map<CheckCode, LadderCheck>(ladderChecks.map((check) => [check.code, check]));
  for (const [code, rule] of Object.entries(RULES) as [BesideLadder, (typeof RULES)['clamping-time']][]) {
    made.set(code, rule(input, computed));
  }
  const checks = CHECK_CODES.map((code) => made.get(code) as LadderCheck);
  return { status: findWorstStatus(checks), window, rungs, checks };
}

/** The checks that were made of a circuit before there were others: those of its pressure ladder, and of its supply. */
export function proveSupply(input: SupplyProofInput): PressureLadderResult {
  const { window, rungs, checks: ladderChecks } = pressureLadder(input.pressureLadder);
  const computed = { window, lift: findLowestLift(input.pressureLadder).span };
  const checks = [...ladderChecks, judgeSharedSupply(input, computed), judgeWithoutSupply(input, computed)];
  return { status: findWorstStatus(checks), window, rungs, checks };
}
