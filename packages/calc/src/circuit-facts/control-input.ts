import type { PartChecksInput } from '../circuit-checks/part-checks.js';
import type { ControlWiringInput } from '../circuit-checks/wiring-check.js';
import { coilRelease } from '../electrical/coil-release.js';
import { conductorResistance } from '../electrical/conductor-resistance.js';
import type { InterlockCode, InterlockMachine, InterlockCircuit } from '../interlock/interlock-model.js';
import type { FigureRef, MissingFigure } from '../pressure-ladder/pressure-ladder.types.js';
import type {
  CircuitFacts,
  ControlCircuitFacts,
  ControlFacts,
  ControlMachineFacts,
  MCodeFacts,
  SignalFacts,
  WireFacts,
} from './circuit-facts.types.js';
import { figureOf, findOfKind } from './component-figures.js';

/** Of the valve that a circuit's coils belong to. */
export interface CoilFigures {
  powerW: number | null;
  ratedVoltageV: number | null;
  toleranceRatio: number | null;
  /** 1: continuous */
  dutyRatio: number | null;
}

const COILS: readonly string[] = ['clamp-coil', 'unclamp-coil'];
const BEHAVIOUR = [
  'onPressureLoss',
  'cutNeedsSwitch',
  'palletNeedsSwitch',
  'unclampBlockedWhile',
  'alarmLatches',
  'resetClearsAlarm',
  'alarmMasked',
  'onEmergencyStop',
  'onReset',
  'onPowerReturn',
  'onAirLow',
  'airReturn',
  'switchMustOpen',
  'manualInterlocked',
] as const satisfies readonly (keyof InterlockMachine)[];

const signalRef = ({ id, name }: SignalFacts): FigureRef => ({ entity: 'signal', id, name });
const wireRef = ({ id, number }: WireFacts): FigureRef => ({ entity: 'wire', id, name: number });
const sum = (...values: (number | null)[]): number | null =>
  values.reduce<number | null>((all, one) => (all === null || one === null ? null : all + one), 0);

/** Resistance there and back of all wires of a signal, one after the other [Ohm]; null: not known. */
function toLoopOhm(wires: readonly WireFacts[], temperatureK: number | null): number | null {
  if (wires.length === 0 || temperatureK === null) return null;
  return sum(
    ...wires.map(({ crossSectionM2, lengthM }) =>
      crossSectionM2 === null || lengthM === null || crossSectionM2 <= 0
        ? null
        : 2 * conductorResistance({ crossSectionM2, lengthM, temperatureK }).resistanceOhm,
    ),
  );
}

function toCoil(
  signal: SignalFacts,
  wires: readonly WireFacts[],
  coil: CoilFigures,
  machine: ControlMachineFacts,
): ControlWiringInput['coils'][number] {
  const { controlVoltageV: supplyV, controlTemperatureK, outputRatingV } = machine;
  const { powerW, ratedVoltageV, toleranceRatio, dutyRatio } = coil;
  const loopOhm = toLoopOhm(wires, controlTemperatureK);
  const coilOhm = powerW === null || ratedVoltageV === null || powerW <= 0 ? null : ratedVoltageV ** 2 / powerW;
  const hasSuppression = signal.suppression === null ? null : signal.suppression !== 'none';
  const clampV = signal.suppressionVoltageV;
  return {
    ref: signalRef(signal),
    voltageAtCoilV:
      supplyV === null || loopOhm === null || coilOhm === null ? null : (supplyV * coilOhm) / (coilOhm + loopOhm),
    // Wires that lose nothing, such as short ones on a cold day.
    highestVoltageV: supplyV,
    ratedVoltageV,
    toleranceRatio,
    isRatedContinuous: dutyRatio === null ? null : dutyRatio >= 1,
    // Not said is taken as held on: a coil that is not rated for it then shows.
    isHeldOn: signal.isHeldOn ?? true,
    hasSuppression,
    peakVoltageV:
      supplyV === null || clampV === null || coilOhm === null || hasSuppression !== true
        ? null
        : // The peak does not depend on inductance, nor on when the valve lets go.
          coilRelease({
            inductanceH: 0,
            resistanceOhm: coilOhm,
            supplyVoltageV: supplyV,
            clampVoltageV: clampV,
            fraction: 1,
          }).peakVoltageV,
    peakAtLeastV: supplyV === null ? null : supplyV + (clampV ?? 0),
    outputRatingV,
    isPolarityRight: signal.isPolarityRight,
  };
}

/** Check 7's facts of one circuit: its coils and wires, and the supply that it shares with the others of its machine. */
export function toControlWiring({
  circuit,
  components,
  control,
}: CircuitFacts): Omit<ControlWiringInput, 'marginAsked'> {
  const { machine } = control;
  const valve = findOfKind(components, 'directional-valve');
  const coil: CoilFigures = {
    powerW: figureOf(valve, 'coilPower'),
    ratedVoltageV: figureOf(valve, 'coilVoltage'),
    toleranceRatio: figureOf(valve, 'coilTolerance'),
    dutyRatio: figureOf(valve, 'coilDuty'),
  };
  const signals = control.signals.filter(({ circuitId }) => circuitId === circuit.id);
  const coils = signals.filter(({ direction, actsOn }) => direction === 'output' && COILS.includes(actsOn));
  const wiresOf = ({ id }: SignalFacts): WireFacts[] => control.wires.filter(({ signalId }) => signalId === id);
  const here: FigureRef = { entity: 'circuit', id: circuit.id, name: circuit.name };
  const missing: MissingFigure[] = [];
  if (coils.length === 0) missing.push({ field: 'signals', ref: here });
  for (const signal of signals) {
    if (wiresOf(signal).length === 0) missing.push({ field: 'wires', ref: signalRef(signal) });
  }
  // Of each valve one coil at a time is on.
  const valves = control.circuits.filter(({ hasValve }) => hasValve);
  const coilsW = sum(...valves.map(({ coilPowerW }) => coilPowerW));
  const loadW = sum(machine.controlLoadW, coilsW);
  const reserve = machine.supplyReserveRatio;
  return {
    requiredRatingW: loadW === null || reserve === null ? null : loadW * (1 + reserve),
    supplyRatingW: machine.supplyRatingW,
    peakLoadW: sum(machine.controlLoadPeakW, coilsW),
    peakRatingW: machine.supplyPeakW,
    isPeakAsked: true,
    coils: coils.map((signal) => toCoil(signal, wiresOf(signal), coil, machine)),
    hasSeparateCommons: machine.hasSeparateCommons,
    conductors: signals.flatMap(wiresOf).map((wire) => ({
      ref: wireRef(wire),
      protectionA: wire.protectionA,
      conductorLimitA: wire.conductorLimitA,
      insulationV: wire.insulationVoltageV,
      highestInCableV: wire.highestInCableV,
    })),
    missing,
  };
}

/** Either what the machine's behaviour is, or what of it nobody has said. */
function toBehaviour(machine: ControlMachineFacts): InterlockMachine | MissingFigure[] {
  const unsaid = BEHAVIOUR.filter((name) => (machine.behaviour[name] ?? null) === null);
  const ref = { entity: 'machine', id: machine.id, name: machine.name };
  // Every member was found to be there.
  return unsaid.length === 0
    ? (machine.behaviour as InterlockMachine)
    : unsaid.map((name) => ({ field: `behaviour.${name}`, ref }));
}

/** A name as a person reads it: `y2 ` on one drawing is `Y2` on another. */
export const asRead = (name: string): string => name.normalize('NFKC').trim().replaceAll(/\s+/g, ' ').toUpperCase();

/** What moves clamps at a station: codes of its own, and those of no station, which act on each of them. */
const listCodes = ({ mCodes }: ControlFacts, stationId: string): (MCodeFacts & Pick<InterlockCode, 'action'>)[] =>
  mCodes.flatMap((code) => {
    const { action } = code;
    return action !== 'other' && [stationId, null].includes(code.stationId) ? [{ ...code, action }] : [];
  });

/** Names of a circuit's outputs, inputs and codes that serve something else of the machine too, as a person reads them. */
function listShared(control: ControlFacts, { id, stationId }: ControlCircuitFacts): string[] {
  const { circuits, signals, mCodes } = control;
  const hasOtherStations = circuits.some((other) => other.stationId !== stationId);
  const ownSignals = signals.filter(({ circuitId }) => circuitId === id).map(({ name }) => asRead(name));
  const ownCodes = listCodes(control, stationId).map(({ code }) => asRead(code));
  // Circuits of one station are worked by the same codes: that is no sharing.
  const codesElsewhere = mCodes.filter((code) =>
    code.stationId === null ? hasOtherStations : code.stationId !== stationId,
  );
  const elsewhere = new Set([
    ...signals.filter(({ circuitId }) => circuitId !== id).map(({ name }) => asRead(name)),
    ...codesElsewhere.map(({ code }) => asRead(code)),
  ]);
  const isTwice = (name: string): boolean => ownSignals.filter((one) => one === name).length > 1;
  const actionsOf = (name: string) =>
    new Set(
      mCodes
        .filter((code) => [stationId, null].includes(code.stationId) && asRead(code.code) === name)
        .map(({ action }) => action),
    );
  return [...new Set([...ownSignals, ...ownCodes])].filter(
    (name) => elsewhere.has(name) || isTwice(name) || actionsOf(name).size > 1,
  );
}

/** One circuit as a station of the model, or what is missing for it. */
function toStation(control: ControlFacts, circuit: ControlCircuitFacts): InterlockCircuit | MissingFigure[] {
  const ref: FigureRef = { entity: 'circuit', id: circuit.id, name: circuit.name };
  const missing: MissingFigure[] = [];
  const need = <T>(value: T | null | undefined, field: string): T | null => {
    if (value !== null && value !== undefined) return value;
    missing.push({ field, ref });
    return null;
  };
  const ownSignals = control.signals.filter(({ circuitId }) => circuitId === circuit.id);
  const codes = listCodes(control, circuit.stationId);
  // Whether a code of no station is meant for this one, or nobody has said its station, is not known: it needs its own.
  const codeOf = (way: InterlockCode['action']) =>
    codes.find(({ action, stationId }) => action === way && stationId !== null);
  const [clampCode, unclampCode] = [codeOf('clamp'), codeOf('unclamp')];
  const outputs = ownSignals.filter(({ direction }) => direction === 'output');
  const outputOf = (coil: string) => outputs.find(({ actsOn }) => actsOn === coil);
  const valve = need(circuit.valveBehaviour, 'valveBehaviour');
  // A single-solenoid valve has one coil, against its spring; the other direction needs no output.
  const spare = (name: string) => ({ name: `${circuit.id} ${name}`, isHeldOn: null });
  const clamp = outputOf('clamp-coil') ?? (valve === 'single-rests-clamped' ? spare('clamp') : null);
  const unclamp = outputOf('unclamp-coil') ?? (valve === 'single-rests-unclamped' ? spare('unclamp') : null);
  const held = outputs.flatMap(({ actsOn, isHeldOn }) =>
    COILS.includes(actsOn) && isHeldOn !== null ? [isHeldOn] : [],
  );
  const knownCodes = codes.flatMap(({ action, code, waitsForAnswer }) =>
    waitsForAnswer === null ? [] : [{ action, code: asRead(code), waits: waitsForAnswer }],
  );
  const isEachSaid = clampCode !== undefined && unclampCode !== undefined && knownCodes.length === codes.length;
  const station = {
    checkValve: need(circuit.isCheckHeld, 'isCheckHeld'),
    clampOutput: need(clamp, 'clampOutput')?.name,
    unclampOutput: need(unclamp, 'unclampOutput')?.name,
    switchInput: need(
      ownSignals.find(({ direction }) => direction === 'input'),
      'switchInput',
    )?.name,
    clampCode: need(clampCode, 'clampCode')?.code,
    unclampCode: need(unclampCode, 'unclampCode')?.code,
    codesWait: need(isEachSaid ? knownCodes.every(({ waits }) => waits) : null, 'waitsForAnswer'),
    isHeld: need(held.length === 0 ? null : held.every(Boolean), 'isHeldOn'),
  };
  const { checkValve, clampOutput, unclampOutput, switchInput, codesWait, isHeld } = station;
  if (
    valve === null ||
    checkValve === null ||
    codesWait === null ||
    isHeld === null ||
    clampOutput === undefined ||
    unclampOutput === undefined ||
    switchInput === undefined ||
    station.clampCode === undefined ||
    station.unclampCode === undefined
  ) {
    return ownSignals.length === 0 ? [{ field: 'signals', ref }] : missing;
  }
  return {
    name: circuit.name,
    valve,
    checkValve,
    clampOutput: asRead(clampOutput),
    unclampOutput: asRead(unclampOutput),
    switchInput: asRead(switchInput),
    clampCode: asRead(station.clampCode),
    unclampCode: asRead(station.unclampCode),
    codesWait,
    outputs: isHeld ? 'held' : 'pulsed',
    codes: knownCodes,
    signals: ownSignals.map(({ name }) => asRead(name)),
    place: circuit.stationId,
  };
}

/**
 * Check 8's facts of one circuit: its own control with that of every circuit of the machine's other stations that is known,
 * so that what they share is found.
 */
export function toInterlock(control: ControlFacts, circuitId: string): PartChecksInput['interlock'] {
  const circuit = control.circuits.find(({ id }) => id === circuitId);
  if (circuit === undefined) return { proof: null, missing: [{ field: 'signals', ref: null }] };
  const { machine } = control;
  const behaviour = toBehaviour(machine);
  const station = toStation(control, circuit);
  if (Array.isArray(station) || Array.isArray(behaviour)) {
    return { proof: null, missing: [station, behaviour].flatMap((part) => (Array.isArray(part) ? part : [])) };
  }
  const others = control.circuits
    // Circuits of one station are worked by the same codes: that is no sharing.
    .filter(({ stationId }) => stationId !== circuit.stationId)
    .map((other) => toStation(control, other))
    .flatMap((station) => (Array.isArray(station) ? [] : [station]));
  const shared = listShared(control, circuit);
  return { proof: { station: 0, stations: [station, ...others], machine: behaviour, shared }, missing: [] };
}
