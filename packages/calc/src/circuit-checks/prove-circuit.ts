import { findWorstStatus, pressureLadder } from '../pressure-ladder/pressure-ladder.js';
import type {
  FigureRef,
  LadderCheck,
  PressureLadderInput,
  PressureLadderResult,
} from '../pressure-ladder/pressure-ladder.types.js';
import { checkFurther, toLadderCheck, type FurtherProofInput } from './further-checks.js';
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
  marginsAsked: Readonly<Record<'shared-supply' | 'holds-without-supply', number>>;
  /** what checks 5 to 8, 12 and 13 stand on; left out: they are not made, as in proofs from before them */
  further?: FurtherProofInput;
}

/**
 * The pressure ladder of a circuit with the checks that look beyond it, in the order of their numbers: 5 to 8 between
 * those of the ladder, then 10 shared supply, 11 without supply, 12 order and 13 reservoir.
 * What is not known is never replaced: the check is then `unproven` and says what is missing. Never throws.
 */
export function proveCircuit(input: CircuitProofInput): PressureLadderResult {
  const { pressureLadder: ladder, sharedSupply, withoutSupply, marginsAsked, further } = input;
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
  const made = further === undefined ? [] : checkFurther({ further, pressureLadder: ladder });
  const isEarly = ({ code }: LadderCheck): boolean => code !== 'order-and-speed' && code !== 'reservoir';
  const checks = [
    ...own.filter(({ code }) => code !== 'workpiece-limit'),
    ...made.filter(isEarly),
    ...own.filter(({ code }) => code === 'workpiece-limit'),
    toLadderCheck(shared),
    toLadderCheck(without),
    ...made.filter((check) => !isEarly(check)),
  ];
  return { status: findWorstStatus(checks), window, rungs, checks };
}
