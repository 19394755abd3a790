import { applyEvent } from './interlock-events.js';
import { requireThat, type CalcNote } from '../errors.js';
import {
  codesOf,
  INTERLOCK_EVENTS,
  settle,
  toKey,
  waysOf,
  type InterlockCase,
  type InterlockEvent,
  type InterlockFault,
  type InterlockMachine,
  type InterlockState,
  type InterlockCircuit,
} from './interlock-model.js';
import { FORMER_RULE_NAMES, INTERLOCK_RULE_NAMES, INTERLOCK_RULES, type InterlockRule } from './interlock-rules.js';

export interface InterlockProofInput {
  stations: readonly InterlockCircuit[];
  machine: InterlockMachine;
  /** faults to try, each by itself; `none` is the sound machine */
  faults: readonly InterlockFault[];
}
/** One step of a story: what happens, and how things stand after it. */
export interface InterlockStep {
  event: InterlockEvent;
  /** the code or signal concerned, where one is */
  signal?: string;
  clamped: boolean;
  spindle: boolean;
  cutting: boolean;
  alarm: boolean;
}
export interface BrokenRule {
  rule: InterlockRule;
  fault: InterlockFault;
  /** it breaks with the best reactions of the control too: nothing short of a second channel covers it */
  needsSecondChannel: boolean;
  story: InterlockStep[];
}
export interface InterlockCircuitProof {
  name: string;
  /** states reached, all faults together */
  states: number;
  /** rules that hold in every state under every fault tried */
  holds: InterlockRule[];
  broken: BrokenRule[];
}
export interface InterlockProofResult {
  /** states reached, all stations and faults together */
  states: number;
  /** without a fault every rule holds, and no station shares a signal */
  sound: boolean;
  /** signals and codes that two stations use: their proofs then say nothing about each other */
  shared: { signal: string; stations: string[] }[];
  stations: InterlockCircuitProof[];
  notes: CalcNote[];
}

function toStart(interlock: InterlockCase): InterlockState {
  const start: InterlockState = {
    power: true,
    air: true,
    stopped: false,
    clampOut: false,
    unclampOut: false,
    valve: 1,
    pressurised: false,
    leaking: false,
    spindle: false,
    cutting: false,
    command: 0,
    waits: interlock.station.codesWait,
    alarm: false,
    believed: false,
    hasOpened: false,
    hasMade: false,
    otherMade: false,
  };
  settle(interlock, start);
  return start;
}

function toSignal(station: InterlockCircuit, event: InterlockEvent, way: boolean): string | undefined {
  const codeOf = (action: 'clamp' | 'unclamp') => codesOf(station, action).find(({ waits }) => waits === way)?.code;
  switch (event) {
    case 'clamp-code':
      return codeOf('clamp');
    case 'unclamp-code':
      return codeOf('unclamp');
    case 'output-loss':
      return `${station.clampOutput}, ${station.unclampOutput}`;
    default:
      return undefined;
  }
}

interface Node {
  state: InterlockState;
  event: InterlockEvent | null;
  waits: boolean;
  parent: Node | null;
}

function toStory(station: InterlockCircuit, last: Node): InterlockStep[] {
  const steps: InterlockStep[] = [];
  for (let node: Node | null = last; node?.event; node = node.parent) {
    const { state, event, waits } = node;
    const signal = toSignal(station, event, waits);
    const { pressurised, spindle, cutting, alarm } = state;
    steps.push({ event, ...(signal === undefined ? {} : { signal }), clamped: pressurised, spindle, cutting, alarm });
  }
  return steps.reverse();
}

interface Exploration {
  readonly states: number;
  /** the last step of a shortest story of each rule that breaks */
  readonly broken: ReadonlyMap<InterlockRule, Node>;
}

/** Every state that can be reached, breadth first, so that the first story found for a rule is a shortest one. */
function explore(interlock: InterlockCase): Exploration {
  const { station } = interlock;
  const first: Node = { state: toStart(interlock), event: null, waits: station.codesWait, parent: null };
  const steps = INTERLOCK_EVENTS.flatMap((event) => waysOf(station, event).map((waits) => ({ event, waits })));
  const seen = new Set([toKey(first.state)]);
  const queue = [first];
  const broken = new Map<InterlockRule, Node>();
  const rules = interlock.isFormer === true ? FORMER_RULE_NAMES : INTERLOCK_RULE_NAMES;
  for (let at = 0; at < queue.length; at += 1) {
    const node = queue[at] as Node;
    for (const { event, waits } of steps) {
      const state = applyEvent(interlock, node.state, event, waits);
      if (!state) continue;
      const next: Node = { state, event, waits, parent: node };
      for (const rule of rules) {
        if (broken.has(rule) || !INTERLOCK_RULES[rule]({ interlock, before: node.state, event, after: state }))
          continue;
        broken.set(rule, next);
      }
      const key = toKey(state);
      if (seen.has(key)) continue;
      seen.add(key);
      queue.push(next);
    }
  }
  return { states: seen.size, broken };
}

/** Explorations kept: machines are wired alike, and those of one take the same states. */
const KEPT = 200;
const explored = new Map<string, Exploration>();

/** The same of stations that differ by name and signals only: what they do does not depend on those. */
function exploreOnce(interlock: InterlockCase): Exploration {
  const { station, machine, fault, isFormer } = interlock;
  const { valve, checkValve, codesWait, outputs } = station;
  const reactions = Object.keys(machine)
    .sort()
    .map((name) => machine[name as keyof InterlockMachine]);
  const ways = (['clamp-code', 'unclamp-code'] as const).map((event) => waysOf(station, event).join('/'));
  const key = [valve, checkValve, codesWait, ...ways, outputs, fault, isFormer === true, ...reactions].join();
  const found = explored.get(key) ?? explore(interlock);
  // The latest last: what is dropped is what nobody has asked for longest.
  explored.delete(key);
  explored.set(key, found);
  if (explored.size > KEPT) explored.delete(String(explored.keys().next().value));
  return found;
}

/** Rules that break in a station under a fault, by themselves: no story is told. */
export const listBroken = (interlock: InterlockCase): { states: number; rules: InterlockRule[] } => {
  const { states, broken } = exploreOnce(interlock);
  return { states, rules: [...broken.keys()] };
};

/** The reactions with which a control does all that it can with one switch. */
export const BEST_REACTIONS: InterlockMachine = {
  ...{ onPressureLoss: 'stop', cutNeedsSwitch: true, palletNeedsSwitch: true, unclampBlockedWhile: 'turning' },
  ...{ alarmLatches: true, resetClearsAlarm: false, alarmMasked: true, onEmergencyStop: 'keep', onReset: 'keep' },
  ...{ onPowerReturn: 'keep', onAirLow: 'stop', airReturn: 'by-hand', switchMustOpen: true, manualInterlocked: true },
};

/** Whether a rule breaks whatever the control does about it. */
export const needsSecondChannel = (station: InterlockCircuit, fault: InterlockFault, rule: InterlockRule): boolean =>
  fault !== 'none' && exploreOnce({ station, machine: BEST_REACTIONS, fault }).broken.has(rule);

/** Outputs, input and codes that a station uses, each once. */
export const signalsOf = ({
  clampOutput,
  unclampOutput,
  switchInput,
  clampCode,
  unclampCode,
}: InterlockCircuit): string[] => [...new Set([clampOutput, unclampOutput, switchInput, clampCode, unclampCode])];

/** Signals that two stations have, or one station for two ends; codes by which two places are worked. */
function findShared(stations: readonly InterlockCircuit[]): { signal: string; stations: string[] }[] {
  const users = new Map<string, { name: string; place: string | null }[]>();
  const usersOf = (signal: string) => users.get(signal) ?? [];
  for (const station of stations) {
    const { name, place = null, clampOutput, unclampOutput, switchInput } = station;
    const codes = new Set([...codesOf(station, 'clamp'), ...codesOf(station, 'unclamp')].map(({ code }) => code));
    for (const code of codes) {
      const isOfPlace = place !== null && usersOf(code).some((user) => user.place === place);
      if (!isOfPlace) users.set(code, [...usersOf(code), { name, place }]);
    }
    for (const signal of station.signals ?? new Set([clampOutput, unclampOutput, switchInput])) {
      if (!codes.has(signal)) users.set(signal, [...usersOf(signal), { name, place: null }]);
    }
  }
  return [...users]
    .filter(([, those]) => those.length > 1)
    .map(([signal, those]) => ({ signal, stations: those.map(({ name }) => name) }));
}

/**
 * Whether the clamping interlock of a machine is sound: every rule in every state, or the shortest story that breaks it.
 *
 * @method Each station with the spindle and the supply that it shares is a finite-state model; all states that the events can reach are explored breadth first, for each fault by itself. Stations are explored one by one after showing that they share no output, input or code.
 * @residual sound ? 0 : 1
 * @assumes One fault at a time; events one after the other; the control's reactions as given.
 * @range A proof about this model of the wiring and the reactions, not a safety function and no performance level.
 * @throws CalcInputError out-of-range: no station or no fault to try. inconsistent: one output for both directions.
 * @example sound-machine
 * in  {"stations":[{"name":"A","valve":"double-detented","checkValve":true,"clampOutput":"Y1","unclampOutput":"Y2","switchInput":"X1","clampCode":"clamp A","unclampCode":"unclamp A","codesWait":true,"outputs":"held"}],"machine":{"onPressureLoss":"stop","cutNeedsSwitch":true,"palletNeedsSwitch":true,"unclampBlockedWhile":"turning","alarmLatches":true,"resetClearsAlarm":false,"alarmMasked":true,"onEmergencyStop":"keep","onReset":"keep","onPowerReturn":"keep","onAirLow":"stop","airReturn":"by-hand","switchMustOpen":true,"manualInterlocked":true},"faults":["none"]}
 * out {"sound":true,"shared":[]}
 * @source Breadth-first search of a finite-state model; rules from common practice of workholding retrofits (no source).
 */
export function interlockProof(input: InterlockProofInput): InterlockProofResult {
  const { stations, machine, faults } = input;
  requireThat(stations.length > 0, 'out-of-range', ['stations'], 'at least one station');
  requireThat(faults.length > 0, 'out-of-range', ['faults'], 'at least one fault to try, `none` for the sound machine');
  stations.forEach(({ clampOutput, unclampOutput, clampCode, unclampCode }, index) => {
    const at = (name: string): string => `stations[${index}].${name}`;
    requireThat(clampOutput !== unclampOutput, 'inconsistent', [at('clampOutput'), at('unclampOutput')], 'two outputs');
    requireThat(clampCode !== unclampCode, 'inconsistent', [at('clampCode'), at('unclampCode')], 'two codes');
  });
  const shared = findShared(stations);
  const proofs = stations.map((station): InterlockCircuitProof => {
    // The sound machine always: what breaks without a fault breaks with any.
    const runs = [...new Set(['none' as const, ...faults])].map((fault) => ({
      fault,
      ...exploreOnce({ station, machine, fault }),
    }));
    const states = runs.reduce((sum, run) => sum + run.states, 0);
    const broken = runs.flatMap((run) =>
      [...run.broken].map(([rule, last]) => ({
        rule,
        fault: run.fault,
        needsSecondChannel: needsSecondChannel(station, run.fault, rule),
        story: toStory(station, last),
      })),
    );
    const holds = INTERLOCK_RULE_NAMES.filter((rule) => broken.every((brokenRule) => brokenRule.rule !== rule));
    return { name: station.name, states, holds, broken };
  });
  return {
    states: proofs.reduce((sum, { states }) => sum + states, 0),
    sound: shared.length === 0 && proofs.every(({ broken }) => broken.every(({ fault }) => fault !== 'none')),
    shared,
    stations: proofs,
    notes: [{ code: 'not-a-safety-function' }, ...(shared.length > 0 ? [{ code: 'stations-share-signals' }] : [])],
  };
}
