import { findWorstStatus, pressureLadder } from '../pressure-ladder/pressure-ladder.js';
import type {
  FigureRef,
  FurtherCheckCode,
  LadderCheck,
  LadderMargin,
  PressureLadderInput,
  PressureLadderResult,
} from '../pressure-ladder/pressure-ladder.types.js';
import type { CircuitCheck, CircuitMargin } from './circuit-checks.types.js';
import { checkHoldsWithoutSupply, checkSharedSupply } from './supply-checks.js';

/** All that a circuit is proved from: its pressure ladder, what it shares with others, and how it stands without supply. */
export interface CircuitProofInput {
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
  marginsAsked: Readonly<Record<FurtherCheckCode, number>>;
}

function toPressures(margin: CircuitMargin | null): LadderMargin | null {
  return margin && { demandPa: margin.demand, capacityPa: margin.capacity, marginPa: margin.margin };
}

/** A check of pressures beside those of the ladder; one that stands on a statement has no numbers. */
function toLadderCheck(check: CircuitCheck, code: FurtherCheckCode): LadderCheck {
  const isPressure = check.kind === 'pressure';
  return {
    code,
    status: check.status,
    reason: check.reason,
    subject: check.subject,
    nominal: isPressure ? toPressures(check.nominal) : null,
    stated: isPressure ? toPressures(check.stated) : null,
    worstCase: isPressure ? toPressures(check.worstCase) : null,
    ratio: isPressure ? check.ratio : null,
    marginAsked: check.marginAsked,
    probability: null,
    missing: check.missing,
    parameters: {},
    source: check.source,
  };
}

/**
 * The pressure ladder of a circuit with the checks that look beyond it: 10 shared supply and 11 without supply.
 * What is not known is never replaced: the check is then `unproven` and says what is missing. Never throws.
 */
export function proveCircuit(input: CircuitProofInput): PressureLadderResult {
  const { pressureLadder: ladder, sharedSupply, withoutSupply, marginsAsked } = input;
  const { window, rungs, checks: own } = pressureLadder(ladder);
  const { netExpansionPerK, bulkModulusPa } = ladder.thermal;
  const shared = checkSharedSupply({
    resetPointPa: ladder.resetPointPa,
    switchAccuracyPa: ladder.switchAccuracyPa,
    gaugeErrorPa: ladder.gaugeErrorPa,
    restartPressurePa: ladder.pump.restartPressurePa,
    restartHalfWidthPa: ladder.pump.restartHalfWidthPa,
    others: sharedSupply.others,
    marginAsked: marginsAsked['shared-supply'],
  });
  const without = checkHoldsWithoutSupply({
    ...withoutSupply,
    requiredPressurePa: window.lowPa,
    settingPa: ladder.settingPa,
    settingHalfWidthPa: ladder.settingHalfWidthPa,
    gaugeErrorPa: ladder.gaugeErrorPa,
    decayRatePaPerS: ladder.hold.decayRatePaPerS,
    pressurePerKelvinPaPerK:
      netExpansionPerK === null || bulkModulusPa === null ? null : netExpansionPerK * bulkModulusPa,
    marginAsked: marginsAsked['holds-without-supply'],
  });
  const checks = [...own, toLadderCheck(shared, 'shared-supply'), toLadderCheck(without, 'holds-without-supply')];
  return { status: findWorstStatus(checks), window, rungs, checks };
}
