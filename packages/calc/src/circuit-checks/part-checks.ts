import {
  INTERLOCK_FAULTS,
  type InterlockFault,
  type InterlockMachine,
  type InterlockCircuit,
} from '../interlock/interlock-model.js';
import { listBroken, needsSecondChannel, signalsOf } from '../interlock/interlock-proof.js';
import type {
  BrokenByFault,
  FigureRef,
  ProvedCheck,
  PressureCheckCode,
  MissingFigure,
  PressureLadderInput,
} from '../pressure-ladder/pressure-ladder.types.js';
import { toSpringArea } from './actuation-figures.js';
import type { ActuationInput, ActuationResult, ClampMovement } from './actuation.types.js';
import { findHighestStall, type PressureFigures } from '../pressure-ladder/pressure-figures.js';
import { isExact, type Span } from '../pressure-ladder/span.js';
import type { MarginCode } from './checks.js';
import type { CircuitCheck } from './circuit-checks.types.js';
import { toOilVolumes } from './oil-volumes.js';
import { judgeOrder } from './judge-order.js';
import { toPilotPressures, type PilotedValve } from './pilot-pairs.js';
import { checkReservoir } from './supply-checks.js';
import { toColdSwitch, toNumber, toOpenAsRead, toSpanOfReading, type MeasuredTimes } from './measured-times.js';
import type { SupportInput } from './support-load.js';
import { checkClampingTime, checkUnclamping } from './time-checks.js';
import { checkControlWiring, type ControlWiringInput } from './wiring-check.js';

/** What the checks of time, wiring, interlock, order and reservoir stand on. */
export interface PartChecksInput {
  actuation: ActuationInput;
  /** null: the circuit runs at a setting at which nothing was read */
  measured: MeasuredTimes | null;
  /** from the pressure at which the switch makes until it tells so; null: not known; left out: not reckoned with [s] */
  switchDelayS?: number | null;
  clampTimeAllowedS: number | null;
  unclampTimeAllowedS: number | null;
  needsOpenProof: boolean | null;
  hasOpenProof: boolean | null;
  /** check valves in the clamp line that nothing opens while unclamping; left out: there is none */
  shutWhileUnclamping?: readonly FigureRef[];
  /** one of which nobody has said in which line it is; left out: there is none */
  mayStayShut?: boolean;
  /** those that a pilot has to open; left out: not looked at */
  piloted?: readonly PilotedValve[];
  controlWiring: Omit<ControlWiringInput, 'marginAsked'>;
  interlock: {
    /** the circuit's own station among all of its machine; null: something is missing */
    proof: {
      station: number;
      stations: readonly InterlockCircuit[];
      machine: InterlockMachine;
      /** its signals and codes that serve something else too; left out: those that a station of the list has too */
      shared?: readonly string[];
    } | null;
    missing: readonly MissingFigure[];
  };
  order: {
    supports: readonly SupportInput[];
    /** a support carries nothing below the pressure at which it locks; left out: not reckoned with */
    isLockReckoned?: boolean;
    /** opening pressure of what lets the supports go first [Pa]; null: nothing does, or it is not known */
    sequencePressurePa: number | null;
    hasSequenceValve: boolean;
    /** nobody knows what there is to order: no fixture is fitted; left out: it is known */
    isUnknown?: boolean;
    /** by their place among the groups of `actuation` */
    swingClamps: readonly { group: number; highestFlowM3PerS: number | null; armPressurePa: number | null }[];
  };
  reservoir: {
    /** every circuit of the power unit, this one included */
    circuits: readonly ({ ref: FigureRef } & Pick<ActuationInput, 'groups'> & {
        clampLine: ActuationInput['lines']['clamp'];
        /** each may take its whole size; left out: there is none */
        accumulators?: readonly { ref: FigureRef; sizeM3: number | null }[];
      })[];
    usableVolumeM3: number | null;
    freeVolumeM3: number | null;
  };
  /** per check: margin asked for as a share of the capacity [1], 0 <= margin < 1 */
  marginsAsked: Readonly<Record<Exclude<MarginCode, PressureCheckCode>, number>>;
}

type Input = PartChecksInput & { pressureLadder: PressureLadderInput };

/** So many figures are named one by one; of more it is said what they would tell. */
const NAMED = 5;

const nameWhat = (missing: readonly MissingFigure[], whole: string): readonly MissingFigure[] =>
  missing.length > NAMED ? [{ field: whole, ref: null }] : missing;

/** The set point lies above what the lowest plant air lifts to. */
const isAboveLift = ({ isFromFacts, setPointPa }: PressureLadderInput, lift: Span): boolean =>
  isFromFacts === true && setPointPa !== null && setPointPa > lift.hi;

/** Switch and contact as they were read, as close together as they may have been; null: not both were. */
function toReadOrder(read: MeasuredTimes | null): { timeToSwitchS: number; timeToContactS: number } | null {
  if (read === null || read.timeToSwitchS === null || read.timeToContactS === null) return null;
  const halfWidthS = read.halfWidthS ?? 0;
  return { timeToSwitchS: read.timeToSwitchS - halfWidthS, timeToContactS: read.timeToContactS + halfWidthS };
}

/** From the contact of the last clamp until the switch may make, as it was computed. */
const gapOf = ({ soonestSwitchS, timeToContactS }: ClampMovement): number =>
  timeToContactS === 'never' ? -Infinity : toNumber(soonestSwitchS) - toNumber(timeToContactS);
const toClosest = ({ soonestSwitchS: timeToSwitchS, timeToContactS }: ClampMovement) => ({
  timeToSwitchS,
  timeToContactS,
});

/** What is missing for how far the unclamp line may have warmed up before it lets down. */
function listOfUnclampWarmth(
  { thermal: { canTrapOpen, unsaidOpen = [] } }: PressureLadderInput,
  { unclampRise: { span, missing } }: PressureFigures,
): readonly MissingFigure[] {
  if (canTrapOpen === true) return missing;
  return span.hi === 0 ? [] : unsaidOpen.map((field) => ({ field, ref: null }));
}

function judgeClamping(
  input: Input,
  { warm, cold, mostMovingPa, clampMissing }: ActuationResult,
  { figures, lift }: Pick<Computed, 'figures' | 'lift'>,
): CircuitCheck {
  const { measured, clampTimeAllowedS: allowedTimeS } = input;
  const { sensesClamps, unclampLineBlocked, setPointPa, switchAccuracyPa, gaugeErrorPa } = input.pressureLadder;
  const sensing = {
    // Without the figures of a movement there is what was read, or nothing.
    ...(mostMovingPa === undefined || clampMissing.length > 0
      ? {}
      : { moving: { mostPa: mostMovingPa, setPointPa, switchAccuracyPa, gaugeErrorPa } }),
    ...(sensesClamps === undefined ? {} : { sensesClamps }),
    ...(unclampLineBlocked === undefined ? {} : { unclampLineBlocked }),
    ...(input.pressureLadder.isFromFacts === true ? { isNeverTooLate: true } : {}),
  };
  const marginAsked = input.marginsAsked['clamping-time'];
  const { isFromFacts } = input.pressureLadder;
  const isSlowestRead = measured !== null && measured.isSlowest !== false;
  if (isSlowestRead && measured.timeToSwitchS !== null && measured.timeToContactS !== null) {
    const { timeToSwitchS, timeToContactS, halfWidthS } = measured;
    // With warm oil, which nobody has read, contact and switch may lie closer together.
    const readGap = timeToSwitchS - timeToContactS - 2 * Number(halfWidthS);
    const closer = isFromFacts === true && warm !== null && gapOf(warm) < readGap ? toClosest(warm) : null;
    return checkClampingTime({
      ...{ timeToSwitchS, timeToContactS, timeHalfWidthS: halfWidthS, allowedTimeS, marginAsked },
      ...(closer === null ? {} : { closest: closer }),
      ...(isFromFacts === true && closer === null ? { orderHalfWidthS: halfWidthS } : {}),
      ...sensing,
    });
  }
  const timesMissing = nameWhat(clampMissing, 'timeToSwitchS');
  // Read without the contact, under better conditions, or with another set point.
  const read = isFromFacts === true && measured !== null && measured.timeToSwitchS !== null ? measured : null;
  const readSpan = read === null ? {} : { timeToSwitchS: read.timeToSwitchS, timeHalfWidthS: read.halfWidthS };
  if (warm === null || cold === null) {
    // Whatever the transient would be: what the lowest air does not reach never comes, and what was read took as long as it took.
    const isNeverReached = isAboveLift(input.pressureLadder, lift);
    const closest = toReadOrder(read);
    return checkClampingTime({
      ...{ timeToSwitchS: null, timeHalfWidthS: null, ...readSpan },
      ...(isNeverReached ? { timeToSwitchS: 'never' as const, timeHalfWidthS: 0 } : {}),
      ...{ timeToContactS: null, allowedTimeS, timesMissing, marginAsked, ...sensing },
      ...(closest === null ? {} : { closest, isClosestAtMost: true }),
    });
  }
  const computedClosest = gapOf(cold) < gapOf(warm) ? cold : warm;
  const readOrder = toReadOrder(read);
  const readGap = readOrder === null ? Infinity : readOrder.timeToSwitchS - readOrder.timeToContactS;
  const closest = readOrder !== null && readGap < gapOf(computedClosest) ? readOrder : toClosest(computedClosest);
  const isNever = warm.timeToSwitchS === 'never' || cold.timeToSwitchS === 'never';
  const computed = {
    // What never comes with cold oil and low air does not come in time.
    timeToSwitchS: isNever ? ('never' as const) : warm.timeToSwitchS,
    timeHalfWidthS: isNever ? 0 : Math.abs(toNumber(cold.timeToSwitchS) - toNumber(warm.timeToSwitchS)),
  };
  // Of what was read and what is computed the later counts, and the order in which they lie closer together.
  const { switchDelayS } = input;
  const latest = toNumber(computed.timeToSwitchS) + computed.timeHalfWidthS + Number(switchDelayS ?? 0);
  const coldAsReadS = read === null ? 0 : toColdSwitch(toNumber(read.timeToSwitchS), { warm, cold }, switchDelayS);
  const isReadLater = read !== null && coldAsReadS + Number(read.halfWidthS) > latest;
  return checkClampingTime({
    ...computed,
    // Whoever read a time read it when the switch told.
    ...(isReadLater ? toSpanOfReading(read, coldAsReadS) : {}),
    ...(switchDelayS === null || (switchDelayS !== undefined && !isReadLater) ? { switchDelayS } : {}),
    timeToContactS: warm.timeToContactS,
    allowedTimeS,
    closest,
    warmthMissing: listOfUnclampWarmth(input.pressureLadder, figures),
    marginAsked,
    ...sensing,
  });
}

function judgeUnclamping(
  input: Input,
  moved: ActuationResult,
  { figures, lift }: Pick<Computed, 'figures' | 'lift'>,
): CircuitCheck {
  const { rise } = figures;
  const { measured, actuation, needsOpenProof, hasOpenProof, unclampTimeAllowedS: allowedTimeS } = input;
  const isRead = measured !== null && measured.unclampColdS !== null;
  const springs = actuation.groups
    .filter(({ acting }) => acting === 'single')
    .map(({ ref, springForceN, frictionN, ...group }) => ({
      ref,
      springForceN,
      ...(input.pressureLadder.isFromFacts === true ? { frictionN } : {}),
      pistonAreaM2: toSpringArea(group),
      backPressurePa: actuation.returnPressurePa,
    }));
  const unsaid = actuation.groups.filter(({ acting }) => acting === null).map(({ ref }) => ref);
  return checkUnclamping({
    ...(input.pressureLadder.isFromFacts === true ? { returnUnsaid: unsaid } : {}),
    timeColdS: isRead ? measured.unclampColdS : moved.unclampColdS,
    // Computed, it is the slowest already: the coldest oil, the lowest air.
    timeHalfWidthS: isRead ? measured.halfWidthS : 0,
    // Read with warmer oil or more air: it takes no less, nor less than the reading may be off.
    ...(isRead || measured?.unclampS === undefined
      ? {}
      : { timeAtLeastS: toOpenAsRead(measured.unclampS, moved), atLeastHalfWidthS: measured.halfWidthS }),
    ...(isRead || input.pressureLadder.isFromFacts !== true ? {} : { warmthMissing: rise.missing }),
    allowedTimeS,
    needsOpenProof,
    hasOpenProof,
    shut: input.shutWhileUnclamping ?? [],
    mayStayShut: input.mayStayShut === true,
    ...(input.piloted === undefined ? {} : { pilot: { ...toPilotPressures(figures, lift), valves: input.piloted } }),
    springs,
    timesMissing: nameWhat(moved.unclampMissing, 'timeColdS'),
    marginAsked: input.marginsAsked.unclamping,
  });
}

function judgeReservoir({ reservoir, actuation, marginsAsked, pressureLadder }: Input): CircuitCheck {
  const { usableVolumeM3, freeVolumeM3 } = reservoir;
  const { isFromFacts } = pressureLadder;
  const highest = findHighestStall(pressureLadder);
  const reachedPa = isFromFacts !== true ? actuation.pump.stallPressurePa : isExact(highest) ? highest.lo : null;
  return checkReservoir({
    circuits: reservoir.circuits.map(({ ref, groups, clampLine, accumulators = [] }) => {
      const { oil } = actuation;
      const lines = { ...actuation.lines, clamp: clampLine };
      // No circuit of the power unit is above what its pump reaches.
      const { clampVolumeM3, returnVolumeM3, missing } = toOilVolumes(
        { groups, lines, oil, stores: accumulators },
        reachedPa,
      );
      const whole = [{ field: 'clampVolumeM3', ref }];
      return { ref, clampVolumeM3, returnVolumeM3, missing: missing.length > NAMED ? whole : missing };
    }),
    usableVolumeM3,
    freeVolumeM3,
    marginAsked: marginsAsked.reservoir,
  });
}

const STATEMENT = {
  subject: null,
  nominal: null,
  stated: null,
  worstCase: null,
  ratio: null,
  marginAsked: 0,
  probability: null,
  source: 'interlock-proof',
} as const;

/** Check 8: every rule of the interlock holds in every state of this circuit's control, and it shares no signal. */
function judgeInterlock({
  interlock: { proof, missing },
  pressureLadder: { sensesClamps, isFromFacts },
}: Input): ProvedCheck {
  const ownStation = proof?.stations[proof.station];
  const unsaid = sensesClamps === null ? [...missing, { field: 'sensing', ref: null }] : missing;
  // Its rules trust the switch: one that senses the supply tells them nothing of the clamps.
  if (sensesClamps === false) {
    const reason = 'switch-senses-supply';
    return { ...STATEMENT, code: 'interlock-sound', status: 'fails', reason, missing, parameters: {} };
  }
  if (proof === null || ownStation === undefined) {
    return {
      ...STATEMENT,
      code: 'interlock-sound',
      status: 'unproven',
      reason: 'missing',
      missing: unsaid,
      parameters: {},
    };
  }
  const others = proof.stations.filter((station) => station !== ownStation).flatMap(signalsOf);
  // One code, or one output, for both directions is shared as well.
  const twice =
    Number(ownStation.clampCode === ownStation.unclampCode) +
    Number(ownStation.clampOutput === ownStation.unclampOutput);
  const sharedSignals =
    proof.shared?.length ?? signalsOf(ownStation).filter((signal) => others.includes(signal)).length + twice;
  if (isFromFacts !== true) {
    const { states, rules } = listBroken({
      station: ownStation,
      machine: proof.machine,
      fault: 'none',
      isFormer: true,
    });
    return toInterlockCheck({ states, brokenRules: rules.length, sharedSignals, faults: null }, unsaid);
  }
  const used = IN_USE.map((fault) => listBroken({ station: ownStation, machine: proof.machine, fault }));
  const brokenRules = new Set(used.flatMap(({ rules }) => rules)).size;
  const states = used.reduce((sum, one) => sum + one.states, 0);
  return toInterlockCheck(
    { states, brokenRules, sharedSignals, faults: listFaults(ownStation, proof.machine) },
    unsaid,
  );
}

/** What happens to a machine in use, without anything being broken: nothing, work by hand, a code that is aborted. */
const IN_USE = ['none', 'manual-mode', 'aborted-code'] as const satisfies readonly InterlockFault[];
/** Which single faults break which rules; what still breaks with the best reactions needs a second channel. */
function listFaults(station: InterlockCircuit, machine: InterlockMachine): BrokenByFault[] {
  return INTERLOCK_FAULTS.filter((fault) => !(IN_USE as readonly string[]).includes(fault)).flatMap((fault) => {
    const { rules } = listBroken({ station, machine, fault });
    return rules.map((rule) => ({ fault, rule, needsSecondChannel: needsSecondChannel(station, fault, rule) }));
  });
}

/** As a check: what is broken in use, or by a fault that the control could have covered, fails. */
function toInterlockCheck(
  found: { states: number; brokenRules: number; sharedSignals: number; faults: BrokenByFault[] | null },
  missing: readonly MissingFigure[],
): ProvedCheck {
  const { states, brokenRules, sharedSignals, faults } = found;
  const isCoverable = faults?.some(({ needsSecondChannel }) => !needsSecondChannel) === true;
  const reason =
    brokenRules > 0
      ? 'rule-broken'
      : sharedSignals > 0
        ? 'signals-shared'
        : isCoverable
          ? 'fault-not-covered'
          : missing.length > 0
            ? 'missing'
            : 'within';
  const status = reason === 'missing' ? 'unproven' : reason === 'within' ? 'holds' : 'fails';
  const parameters = { states, brokenRules, sharedSignals };
  const check = { ...STATEMENT, code: 'interlock-sound', status, reason, missing, parameters } as const;
  return faults === null ? check : { ...check, faults };
}

/** Turns a check of any kind into one of the ladder's list. */
export function toProvedCheck(check: CircuitCheck): ProvedCheck {
  const { kind, nominal, stated, worstCase } = check;
  const isPressure = kind === 'pressure';
  const toPressures = (margin: CircuitCheck['nominal']) =>
    margin === null || !isPressure
      ? null
      : { demandPa: margin.demand, capacityPa: margin.capacity, marginPa: margin.margin };
  const isNumber = kind !== null && kind !== 'fact';
  return {
    code: check.code,
    status: check.status,
    reason: check.reason,
    subject: check.subject,
    nominal: toPressures(nominal),
    stated: toPressures(stated),
    worstCase: toPressures(worstCase),
    ...(isNumber && !isPressure ? { numbers: { kind, nominal, stated, worstCase } } : {}),
    ratio: isNumber ? check.ratio : null,
    marginAsked: check.marginAsked,
    probability: check.probability,
    missing: check.missing,
    parameters: {},
    source: check.source,
  };
}

/** The same with all that it consists of: each clamp, wire and coil by itself. */
export function withPairs(check: CircuitCheck): ProvedCheck {
  // Several of them may lack the same figure: it is asked for once.
  const missing = [...new Map(check.missing.map((one) => [`${one.field} ${one.ref?.id ?? ''}`, one])).values()];
  const row = { ...toProvedCheck(check), missing };
  return check.pairs.length > 1 ? { ...row, pairs: check.pairs } : row;
}

/** Figures that were put in where nobody had said: shown beside the check that they enter. */
const toUsual = ({ usualFittings }: ActuationResult): Readonly<Record<string, number>> =>
  usualFittings === 0 ? {} : { usualFittings };

/** What the switch does not see: pressures on the way as it makes, with warm oil. */
const toAtSwitch = ({ actuation }: Input, { warm }: ActuationResult): Readonly<Record<string, number>> =>
  actuation.isFromFacts === true && warm !== null && warm.atSwitch !== null ? { ...warm.atSwitch } : {};

/** What several checks ask for, computed once. */
export interface Computed {
  figures: PressureFigures;
  /** lowest pressure to which the pump surely lifts the circuit; unbounded where that is not reckoned with */
  lift: Span;
  /** the movement of the circuit's cylinders */
  moved: () => ActuationResult;
}

/** Rules of checks 5 to 8, 12 and 13. What is not known is never replaced: the check is then `unproven` and says what is missing. */
export const PART_RULES = {
  'clamping-time': (input: Input, { figures, moved, lift }: Computed) => ({
    ...withPairs(judgeClamping(input, moved(), { figures, lift })),
    parameters: { ...toUsual(moved()), ...toAtSwitch(input, moved()) },
  }),
  unclamping: (input: Input, { figures, moved, lift }: Computed) => ({
    ...withPairs(judgeUnclamping(input, moved(), { figures, lift })),
    parameters: toUsual(moved()),
  }),
  // Ratings of wires and devices carry their own margins.
  'control-wiring': ({ controlWiring }: Input) => withPairs(checkControlWiring({ ...controlWiring, marginAsked: 0 })),
  'interlock-sound': judgeInterlock,
  'order-and-speed': (input: Input, { figures, moved, lift }: Computed) =>
    withPairs(judgeOrder(input, figures, moved(), lift)),
  reservoir: (input: Input) => withPairs(judgeReservoir(input)),
};
