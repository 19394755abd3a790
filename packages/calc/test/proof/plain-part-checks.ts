/**
 * Checks of movement, oil, wiring and interlock, worked out by hand a second time: 5, 6, 7, 8, 12 and 13. The transient of a clamping stroke
 * and the exploration of every state of the interlock are not done again: what decides without them is, and where it does not decide the
 * verdict says that it is the best that the check can be (`isBound`).
 */
import type { CircuitFacts } from '../../src/index.js';
import {
  burstRate,
  decayRate,
  figure,
  fittedOf,
  gaugeError,
  isReadSlowest,
  ofSwitches,
  pullsAsSaid,
  readingsInForce,
  resetOf,
  settingOf,
  highestStall,
  opposingAreas,
} from './plain-pressures.js';
import { reliefOfTrapped } from './plain-reliefs.js';
import { isIn, shutsIn, warmUp, whetherUnclampBlocks } from './plain-shut-in.js';
import { pilots } from './plain-pilots.js';
import { seesClamps } from './plain-senses.js';
import { add, compare, known, stands, times, worst } from './plain-verdict.js';
import type { Verdict } from './plain-verdict.js';

export interface Bounded extends Verdict {
  /** something was left out, which can only make it worse: its numbers need not be those that decide */
  isBound: boolean;
  /** no demand that the product tells of the check may be less (time to open, oil drawn); absent: nothing is known of it */
  leastDemand?: number | null;
}
const exact = (verdict: Verdict): Bounded => ({ ...verdict, isBound: false });
const atBest = (verdict: Verdict): Bounded => ({ ...verdict, isBound: true });

interface Mover {
  kind: 'clamp' | 'support';
  isSwing: boolean;
  /** it clamps by its annulus, as far as that is known */
  pulls: boolean;
  isSingle: boolean;
  count: number;
  boreM: number | null;
  rodM: number | null;
  strokeM: number | null;
  springN: number | null;
  frictionN: number | null;
  highestFlow: number | null;
  armPa: number | null;
  lockPa: number | null;
  /** at a pressure */
  loadN: (pressurePa: number | null) => number | null;
  capacityN: number | null;
  ratedPa: number | null;
  /** its load was computed, and grows with the pressure */
  grows: boolean;
}
const MOVING: readonly string[] = ['swing-clamp', 'lever-clamp', 'cylinder', 'work-support'];

type Operations = CircuitFacts['operations'];
/** Worst over operations: as computed, growing with the clamps' pressure above the one it was computed at; as typed where one was not computed. */
function loadOn(id: string, typed: number | null, operations: Operations) {
  const computed = operations.map(({ supportLoads = [] }) => supportLoads.find(({ elementId }) => elementId === id));
  return (pressurePa: number | null): number | null => {
    if (computed.every((load) => load === undefined)) return typed;
    if (pressurePa === null) return null;
    const all = computed.map((load) =>
      load === undefined ? typed : add(load.loadN, times(load.loadPerPaN, Math.max(0, pressurePa - load.atPressurePa))),
    );
    return all.includes(null) ? null : Math.max(...all.map(known));
  };
}

/** What the oil moves: clamps and supports of the fixture, and those that are fitted as components. */
function movers(
  { fixture, components }: Pick<CircuitFacts, 'fixture' | 'components'>,
  operations: Operations = [],
): Mover[] {
  const ofFixture = (fixture?.elements ?? [])
    .filter(({ kind }) => kind !== 'locator')
    .map((element): Mover => ({
      kind: element.kind === 'support' ? 'support' : 'clamp',
      // A clamp of which nobody has said what it is may swing.
      isSwing: element.kind === 'clamp' && (element.form ?? 'swing-clamp') === 'swing-clamp',
      pulls: element.kind === 'clamp' && pullsAsSaid(element) !== false,
      isSingle: element.acting === 'single',
      count: element.quantity,
      boreM: element.boreM,
      rodM: element.rodM,
      strokeM: element.strokeM,
      springN: element.springForceN,
      frictionN: element.frictionN,
      highestFlow: element.highestFlowM3PerS,
      armPa: element.armPressurePa,
      lockPa: element.leastWorkingPressurePa,
      loadN: loadOn(element.id, element.highestLoadN, operations),
      capacityN: element.ratedForceN,
      ratedPa: element.ratedPressurePa,
      grows: operations.some(({ supportLoads = [] }) => supportLoads.some(({ elementId }) => elementId === element.id)),
    }));
  const ofComponents = components
    .filter(({ kind, place }) => place === 'circuit' && MOVING.includes(kind))
    .map((component): Mover => ({
      kind: component.kind === 'work-support' ? 'support' : 'clamp',
      isSwing: component.kind === 'swing-clamp',
      pulls: component.kind === 'swing-clamp',
      isSingle: component.lineFunctions.length > 0 && !component.lineFunctions.includes('unclamp'),
      count: 1,
      boreM: figure(component, 'bore'),
      rodM: figure(component, 'rod'),
      strokeM: figure(component, 'stroke'),
      springN: figure(component, 'springForce'),
      frictionN: figure(component, 'friction'),
      highestFlow: figure(component, 'highestFlow'),
      armPa: figure(component, 'armPressure'),
      lockPa: figure(component, 'leastWorkingPressure'),
      loadN: () => figure(component, 'highestLoad'),
      capacityN: figure(component, 'loadCapacity'),
      ratedPa: figure(component, 'ratedPressure'),
      grows: false,
    }));
  return [...ofFixture, ...ofComponents];
}

const pistonArea = ({ boreM }: Mover): number | null => (boreM === null ? null : (Math.PI / 4) * boreM ** 2);
/** What the oil clamps on: a swing clamp pulls by its annulus, and takes its whole bore only where its rod is not known; others push. */
const clampingArea = (mover: Mover): number | null => {
  if (mover.boreM === null) return null;
  const rodM = mover.pulls ? known(mover.rodM) : 0;
  return (Math.PI / 4) * (mover.boreM ** 2 - rodM ** 2);
};
/** Oil of one stroke of all of a group, clamping. */
const clampingVolume = (mover: Mover): number | null => {
  const volume = times(clampingArea(mover), mover.strokeM);
  return volume === null ? null : mover.count * volume;
};
/** Oil of one stroke of all of a group: count * A_piston * stroke; the greatest that it can take, whichever side it clamps on. */
const strokeVolume = (mover: Mover): number | null => {
  const volume = times(pistonArea(mover), mover.strokeM);
  return volume === null ? null : mover.count * volume;
};

/** 5: as measured, contact before the switch makes and the switch within the time allowed; else what a stroke must take at least. */
export function clampingTime(facts: CircuitFacts): Bounded {
  const allowed = facts.circuit.clampTimeAllowedS;
  const readings = readingsInForce(facts);
  const setting = settingOf(facts);
  const setPoint = facts.settings.inUse?.setPointPa ?? null;
  const asked = facts.marginsAsked['clamping-time'];
  const canStick = opposingAreas(facts).atLeast > 0 || !opposingAreas(facts).isComplete;
  const canBlock = whetherUnclampBlocks(facts);
  const blind = [
    ...(seesClamps(facts) === false ? [stands('fails', 'the switch does not see the clamps')] : []),
    // Pressure is not position.
    ...(canStick && canBlock !== false
      ? [stands(canBlock === null ? 'unproven' : 'fails', 'the switch makes while nothing moves')]
      : []),
  ];
  const measured = readings?.clampTimeS ?? null;
  const contact = readings?.contactTimeS ?? null;
  // Read with the air of that day: with the lowest it may take longer.
  const halfWidth = readings?.timeToleranceS ?? null;
  const isSlowest = isReadSlowest(facts) && readings?.setPointPa === setPoint;
  // Read under better conditions it can be too late, but not soon enough.
  const late = add(measured, known(halfWidth));
  const warm =
    measured !== null && allowed !== null && Number(late) > allowed ? [stands('fails', 'time to switch')] : [];
  if (measured !== null && isSlowest) {
    const common = { tolerances: [], gauge: 0, isIncomplete: halfWidth === null };
    const inOrder =
      contact === null
        ? stands('holds', 'contact not read')
        : compare({
            ...{ ...common, part: 'contact before switch', asked: 0 },
            ...{ demand: contact + known(halfWidth), capacity: measured - known(halfWidth) },
          });
    const inTime = compare({
      ...{ ...common, part: 'time to switch', asked },
      ...{ demand: measured + known(halfWidth), capacity: allowed },
    });
    return { ...atBest(worst([...blind, inOrder, inTime])), leastDemand: contact === null ? measured : null };
  }
  const reaches =
    setPoint !== null && setting.stallLowPa !== null && setPoint > setting.stallLowPa
      ? stands('fails', 'the switch is never reached')
      : stands('holds', 'the switch is reached');
  // At the pump's free flow, no pressure against it, the strokes take volume / flow: nothing is faster.
  const volume = movers(facts).reduce<number | null>((sum, mover) => add(sum, clampingVolume(mover)), 0);
  const flow = figure(fittedOf(facts, 'pump'), 'freeFlow');
  const least = volume === null || flow === null ? null : volume / flow;
  const fill =
    least === null || allowed === null
      ? stands('unproven', 'time to fill')
      : stands(least > allowed ? 'fails' : 'holds', 'time to fill');
  return atBest(worst([...blind, ...warm, reaches, fill]));
}

/** 6: open within the time with oil as cold as it gets; open is proved where a robot loads; a spring beats the pressure behind it. */
export function unclamping(facts: CircuitFacts): Bounded {
  const { unclampTimeAllowedS, needsOpenProof, hasOpenProof, returnPressurePa } = facts.circuit;
  const readings = readingsInForce(facts);
  const parts: Verdict[] = [];
  if (needsOpenProof === null) parts.push(stands('unproven', 'open proof'));
  if (needsOpenProof === true && hasOpenProof !== true) {
    parts.push(stands(hasOpenProof === null ? 'unproven' : 'fails', 'open proof'));
  }
  const fitted = facts.components.filter(({ place }) => place === 'circuit');
  const isPiloted = fitted.some(({ lineFunctions }) => lineFunctions.includes('unclamp'));
  const all = movers(facts);
  // Oil comes back through a sequence or a reducing valve where that has a check valve of its own; whoever read a time saw it open.
  const isOneWay = fitted.some(
    ({ kind, lineFunctions: lines }) => ['sequence-valve', 'reducing-valve'].includes(kind) && lines.includes('clamp'),
  );
  const isUnseen = (readings?.unclampTimeS ?? null) === null;
  if (all.length > 0 && all.every(({ isSingle }) => isSingle) && !isPiloted) {
    const checkValves = fitted.filter(({ kind }) => kind === 'check-valve');
    const stuck = checkValves.some(({ lineFunctions }) => lineFunctions.includes('clamp'));
    if (stuck) parts.push(stands('fails', 'a check valve stays shut'));
    if (isOneWay && isUnseen) parts.push(stands('unproven', 'a valve that may let nothing back'));
    const isFitted = checkValves.some(
      ({ lineFunctions: lines }) => lines.length === 0 || lines.includes('supply') || lines.includes('clamp'),
    );
    const isOnlySaid = !isFitted && facts.circuit.isCheckHeld === true;
    if (isOnlySaid && isUnseen) parts.push(stands('unproven', 'a check valve that may stay shut'));
  }
  parts.push(...pilots(facts, all.length > 0 && all.every(({ isSingle }) => isSingle) && !isPiloted));
  for (const mover of all) {
    if (!mover.isSingle) continue;
    // Least of the spring against tank pressure on the side that clamps and the friction that it drags along.
    const held = add(times(clampingArea(mover), returnPressurePa), mover.frictionN);
    parts.push(compare({ part: 'spring', demand: held, capacity: mover.springN, tolerances: [], gauge: 0, asked: 0 }));
  }
  const measured = readings?.unclampTimeS ?? null;
  const halfWidth = readings?.timeToleranceS ?? null;
  const asked = facts.marginsAsked.unclamping;
  const time = compare({
    part: 'time to open',
    demand: add(measured, known(halfWidth)),
    capacity: unclampTimeAllowedS,
    ...{ tolerances: [], gauge: 0, asked, isIncomplete: halfWidth === null },
  });
  if (measured !== null && isReadSlowest(facts)) return atBest(worst([...parts, time]));
  // Read under better conditions: under the worst it takes at least as long, so that it can fail by it but not hold.
  const verdict = worst([...parts, ...(time.status === 'fails' ? [time] : [stands('holds', 'time to open')])]);
  return { ...atBest(verdict), leastDemand: measured };
}

/** 8: each rule that a single answer breaks; the states are not explored again. */
export function interlockSound(facts: CircuitFacts): Bounded {
  const { behaviour } = facts.control.machine;
  const answers: [string, boolean | null | undefined][] = [
    ['cut needs the switch', behaviour.cutNeedsSwitch],
    ['pallet needs the switch', behaviour.palletNeedsSwitch],
    ['alarm latches', behaviour.alarmLatches],
    ['manual mode interlocked', behaviour.manualInterlocked],
    ['the switch must open', behaviour.switchMustOpen],
    ['the switch sees the clamps', seesClamps(facts)],
  ];
  // A detented valve stays where it is when its outputs drop; any other one goes back.
  const valve = facts.control.circuits.find(({ id }) => id === facts.circuit.id)?.valveBehaviour;
  // Of a circuit whose valve nobody has described no state can be explored.
  if (valve == null) return atBest(stands('unproven', 'valve'));
  const kept = valve === 'double-detented' ? ['keep', 'drop'] : ['keep'];
  const words: [string, string | null | undefined, readonly string[]][] = [
    ['pressure lost', behaviour.onPressureLoss, ['stop']],
    ['emergency stop', behaviour.onEmergencyStop, kept],
    ['reset', behaviour.onReset, kept],
    ['power returns', behaviour.onPowerReturn, kept],
  ];
  const { signals, circuits, mCodes } = facts.control;
  const plain = (name: string): string => name.trim().toLowerCase();
  // Each output and input of the circuit is a wire of its own: its name stands once on the machine.
  const shared = signals.some(
    ({ circuitId, name }) =>
      circuitId === facts.circuit.id && signals.filter((one) => plain(one.name) === plain(name)).length > 1,
  );
  const { stationId } = facts.circuit;
  const moving = mCodes.filter((code) => code.action !== 'other' && (code.stationId ?? stationId) === stationId);
  const isWide = moving.some((code) => code.stationId === null) && circuits.some((one) => one.stationId !== stationId);
  const isUnsaid = moving.some(({ waitsForAnswer }) => waitsForAnswer === null);
  return atBest(
    worst([
      ...answers.map(([part, answer]) => stands(answer == null ? 'unproven' : answer ? 'holds' : 'fails', part)),
      ...words.map(([part, is, must]) => stands(is == null ? 'unproven' : must.includes(is) ? 'holds' : 'fails', part)),
      stands(shared ? 'fails' : 'holds', 'signals apart'),
      stands(isWide ? 'fails' : 'holds', 'codes apart'),
      stands(isUnsaid ? 'unproven' : 'holds', 'codes wait'),
    ]),
  );
}

/** 12: supports locked before clamps load them, within their capacity; no swing clamp above its flow or its pressure at that arm. */
export function orderAndSpeed(facts: CircuitFacts): Bounded {
  const all = movers(facts, facts.operations);
  if (facts.fixture === null && all.length === 0) return exact(stands('unproven', 'fixture'));
  const [swings, supports] = [all.filter(({ isSwing }) => isSwing), all.filter(({ kind }) => kind === 'support')];
  if (swings.length === 0 && supports.length === 0) return exact(stands('not-applicable', 'nothing to order'));
  const { settingPa, tolerancePa, lowest: lowestSet } = settingOf(facts);
  // The machine cuts on until the switch drops out.
  const isSwitchKnown = facts.settings.inUse?.setPointPa != null;
  const dropsOut = isSwitchKnown ? add(resetOf(facts), times(ofSwitches(facts, 'accuracy'), -1)) : null;
  const reaction = add(ofSwitches(facts, 'delay'), facts.control.machine.controlReactionS);
  const burst = burstRate(facts);
  const lost = burst === 'not typed' ? 0 : times(burst, reaction);
  const leaks = times(decayRate(facts), reaction);
  const leaked = leaks === null || lost === null ? null : Math.max(leaks, lost);
  const stopped = add(dropsOut, leaked === null ? null : -Math.max(0, leaked));
  const lowest = lowestSet === null || stopped === null ? null : Math.min(lowestSet, stopped);
  // What is shut in warms up, and no relief lets out more than what it is set above.
  const set = add(settingPa, tolerancePa);
  const shut = shutsIn(facts);
  const warmed = shut === false ? set : add(set, Math.max(0, known(warmUp(facts))));
  const { pa: relieved, isUnknown } = reliefOfTrapped(facts);
  const highest = set === null || warmed === null ? null : Math.max(set, Math.min(warmed, relieved ?? Infinity));
  const isWarm = shut !== false && warmUp(facts) !== 0;
  const isWarmKnown = (warmUp(facts) !== null || relieved !== null) && !(isUnknown && isWarm);
  // Whether it is shut in at all nobody has said: then it makes no difference, or is not known.
  const isHighestKnown = shut === false || (isWarmKnown && (shut === true || highest === set));
  const gauge = gaugeError(facts);
  /** Marginal where the gauge's error alone takes it away; not proven where nobody knows that. */
  const withGauge = (stated: Verdict, atWorst: (errorPa: number) => Verdict): Verdict => {
    if (stated.status !== 'holds') return stated;
    if (gauge === null) return stands('unproven', stated.part);
    return atWorst(gauge).status === 'holds' ? stated : { ...stated, status: 'marginal' };
  };
  const asked = facts.marginsAsked['order-and-speed'];
  const flow = figure(fittedOf(facts, 'pump'), 'freeFlow');
  const sequenceValve = facts.components.find(
    ({ kind, lineFunctions }) => kind === 'sequence-valve' && lineFunctions.includes('clamp'),
  );
  const sequence = add(figure(sequenceValve, 'openingPressure'), -known(figure(sequenceValve, 'openingTolerance')));
  const parts: Verdict[] = [];
  let isBound = false;
  for (const swing of swings) {
    const arm = (pressurePa: number | null, isKnown: boolean) =>
      compare({
        ...{ part: 'arm chart', demand: pressurePa, capacity: swing.armPa },
        ...{ tolerances: [], gauge: 0, asked, isIncomplete: !isKnown },
      });
    const atLeast = add(settingPa, known(tolerancePa));
    const isSure = isHighestKnown && tolerancePa !== null;
    parts.push(
      isSure ? withGauge(arm(highest, true), (errorPa) => arm(add(highest, errorPa), true)) : arm(atLeast, false),
    );
    // What flows at each moment is the transient's to say.
    if (swing.highestFlow === null || flow === null) parts.push(stands('unproven', 'flow'));
    isBound = true;
  }
  for (const support of supports) {
    // It carries in proportion to its pressure, up to its rating: at the lowest, and where the load grows with it at the highest too.
    const bears = (pressurePa: number | null): Verdict => {
      const share = pressurePa === null || support.ratedPa === null ? null : Math.min(1, pressurePa / support.ratedPa);
      const locked = pressurePa !== null && support.lockPa !== null && pressurePa < support.lockPa ? 0 : share;
      const demand = support.loadN(pressurePa);
      const part = { part: 'support load', demand, capacity: times(support.capacityN, locked) };
      return compare({ ...part, tolerances: [], gauge: 0, asked });
    };
    parts.push(withGauge(bears(lowest), (errorPa) => bears(add(lowest, -errorPa))));
    if (support.grows) {
      const high = isHighestKnown ? highest : null;
      parts.push(withGauge(bears(high), (errorPa) => bears(add(high, errorPa))));
    }
    // A support that the lowest pressure does not lock carries nothing.
    if (support.lockPa !== null && lowest !== null && lowest < support.lockPa) {
      parts.push(stands('fails', 'support does not lock'));
    }
    if (support.lockPa === null) parts.push(stands('unproven', 'support locks'));
    // With a sequence valve before the clamps the support must have locked when it opens; else the transient decides.
    if (sequence !== null && support.lockPa !== null && support.lockPa > sequence) {
      parts.push(stands('fails', 'support locks after the sequence valve opens'));
    }
    isBound = true;
  }
  return { ...worst(parts), isBound };
}

const lineVolume = (components: CircuitFacts['components']): number | null => {
  const pieces = components.filter((one) => (one.kind === 'tube' || one.kind === 'hose') && isIn(one, 'clamp'));
  if (pieces.length === 0) return null;
  return pieces.reduce<number | null>((sum, piece) => {
    const [outer, wall] = [figure(piece, 'outerDiameter'), figure(piece, 'wall')];
    const inner = figure(piece, 'innerDiameter') ?? (outer === null || wall === null ? null : outer - 2 * wall);
    const length = figure(piece, 'length');
    return inner === null || length === null ? null : add(sum, (Math.PI / 4) * inner ** 2 * length);
  }, 0);
};

/** 13: strokes of every circuit on the reservoir, and what their oil gives way by under pressure (at least V * p / K of the oil alone). */
export function reservoir(facts: CircuitFacts): Bounded {
  const tank = fittedOf(facts, 'reservoir');
  const circuits = [{ fixture: facts.fixture, components: facts.components }, ...facts.neighbours];
  const pressure = highestStall(facts);
  const modulus = facts.powerUnit.oilBulkModulusPa;
  let demand: number | null = 0;
  for (const circuit of circuits) {
    const all = movers(circuit);
    const strokes = all.reduce<number | null>(
      (sum, mover) => add(sum, strokeVolume(mover)),
      all.length === 0 ? null : 0,
    );
    const line = lineVolume(circuit.components.filter(({ place }) => place === 'circuit'));
    const stored = circuit.components
      // Those of the power unit are among what this circuit has.
      .filter(({ kind }) => kind === 'accumulator')
      .reduce<number | null>((sum, one) => add(sum, figure(one, 'size')), 0);
    const compressed = modulus === null ? null : times(times(add(strokes, line), pressure), 1 / modulus);
    demand = add(demand, strokes, compressed, stored);
  }
  const isIncomplete = facts.powerUnit.oilAirFraction === null;
  const parts = (['usableVolume', 'freeVolume'] as const).map((name) =>
    compare({
      ...{ part: name, demand, capacity: figure(tank, name), tolerances: [], gauge: 0 },
      ...{ asked: facts.marginsAsked.reservoir, isIncomplete },
    }),
  );
  return { ...atBest(worst(parts)), leastDemand: demand };
}
