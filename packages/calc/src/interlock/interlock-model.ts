/** What a station's valve does: moved by two coils and held, by two coils and sprung to the middle, or by one coil. */
export type InterlockValve = 'double-detented' | 'double-centred' | 'single-rests-clamped' | 'single-rests-unclamped';

/** A code that moves a station's clamps, and whether it waits for the switch before the program goes on. */
export interface InterlockCode {
  action: 'clamp' | 'unclamp';
  code: string;
  waits: boolean;
}

export interface InterlockCircuit {
  name: string;
  valve: InterlockValve;
  /** a check valve keeps the pressure when supply or air is lost */
  checkValve: boolean;
  clampOutput: string;
  unclampOutput: string;
  switchInput: string;
  clampCode: string;
  unclampCode: string;
  /** the code waits for the switch before the program goes on */
  codesWait: boolean;
  /** the output stays on after the movement, or is a pulse */
  outputs: 'held' | 'pulsed';
  /** every code that moves it, of the whole machine too; left out: the two above and no more */
  codes?: readonly InterlockCode[];
  /** every output and input, one that is recorded twice twice; left out: the three above and no more */
  signals?: readonly string[];
  /** where its clamps are: what stands at one place is worked by the same codes; left out: where nothing else is */
  place?: string;
}

export interface InterlockMachine {
  onPressureLoss: 'stop' | 'feed-hold' | 'alarm-only' | 'nothing';
  /** spindle, cut and pallet change ask for the switch */
  cutNeedsSwitch: boolean;
  palletNeedsSwitch: boolean;
  unclampBlockedWhile: 'turning' | 'cutting' | 'never';
  alarmLatches: boolean;
  resetClearsAlarm: boolean;
  /** the alarm is silent while an unclamping is commanded and while a clamping is timed */
  alarmMasked: boolean;
  onEmergencyStop: 'keep' | 'drop';
  onReset: 'keep' | 'drop' | 'unclamp';
  onPowerReturn: 'keep' | 'drop';
  onAirLow: 'stop' | 'nothing';
  /** air that comes back waits for a person, or is let in at once */
  airReturn: 'by-hand' | 'at-once';
  /** after unclamping the switch must have opened before it is believed again */
  switchMustOpen: boolean;
  /** manual mode obeys the same blocks as the codes */
  manualInterlocked: boolean;
}

export const INTERLOCK_FAULTS = [
  'none',
  'crossed-plugs',
  'crossed-hoses',
  'stuck-switch',
  'shorted-input',
  'broken-wire',
  'aborted-code',
  'manual-mode',
  'crossed-switches',
] as const;
export type InterlockFault = (typeof INTERLOCK_FAULTS)[number];

export const INTERLOCK_EVENTS = [
  'clamp-code',
  'unclamp-code',
  'spindle-start',
  'cut-start',
  'cut-end',
  'spindle-stop',
  'pallet-to-spindle',
  'pressure-loss',
  'pressure-return',
  'output-loss',
  'emergency-stop',
  'reset',
  'power-off',
  'power-on',
  'air-off',
  'air-on',
  'code-aborted',
  'manual-unclamp',
  'other-clamps',
  'other-opens',
] as const;
export type InterlockEvent = (typeof INTERLOCK_EVENTS)[number];

/** One state of a station with the spindle and the supply that it shares. */
export interface InterlockState {
  power: boolean;
  air: boolean;
  stopped: boolean;
  clampOut: boolean;
  unclampOut: boolean;
  /** 0 clamp, 1 unclamp, 2 middle */
  valve: number;
  pressurised: boolean;
  /** the line cannot hold pressure now: a leak, a burst, a relief that hangs open */
  leaking: boolean;
  spindle: boolean;
  cutting: boolean;
  /** 0 none, 1 clamping, 2 unclamping */
  command: number;
  /** the code of that command waits for its answer; without a command as the station's codes do */
  waits: boolean;
  alarm: boolean;
  /** what the control takes for true */
  believed: boolean;
  hasOpened: boolean;
  hasMade: boolean;
  /** the switch of another station, which crossed wires bring to this one's input */
  otherMade: boolean;
}

export const CLAMP = 0;
export const UNCLAMP = 1;
const MIDDLE = 2;

const BITS = [
  'power',
  'air',
  'stopped',
  'clampOut',
  'unclampOut',
  'pressurised',
  'leaking',
  'spindle',
  'cutting',
  'alarm',
  'believed',
  'hasOpened',
  'hasMade',
  'otherMade',
  'waits',
] as const;

/** The state as one number, for the table of states seen. */
export function toKey(s: InterlockState): number {
  let key = s.valve * 4 + s.command;
  for (const bit of BITS) key = key * 2 + Number(s[bit]);
  return key;
}

export interface InterlockCase {
  station: InterlockCircuit;
  machine: InterlockMachine;
  fault: InterlockFault;
  /** as proofs of older records were made: a code that waits stops nothing but its own program */
  isFormer?: boolean;
}

export function findCoils({ station, fault }: InterlockCase, s: InterlockState): { clamp: boolean; unclamp: boolean } {
  const clamp = s.power && s.clampOut && fault !== 'broken-wire';
  const unclamp = s.power && s.unclampOut;
  const isSingle = station.valve.startsWith('single');
  const wired = fault === 'crossed-plugs' ? { clamp: unclamp, unclamp: clamp } : { clamp, unclamp };
  if (!isSingle) return wired;
  // A single-solenoid valve has the coil against its spring only.
  return station.valve === 'single-rests-clamped'
    ? { clamp: false, unclamp: wired.unclamp }
    : { clamp: wired.clamp, unclamp: false };
}

function moveValve(interlock: InterlockCase, s: InterlockState): number {
  const { clamp, unclamp } = findCoils(interlock, s);
  if (clamp !== unclamp) return clamp ? CLAMP : UNCLAMP;
  switch (interlock.station.valve) {
    case 'double-detented':
      return s.valve;
    case 'double-centred':
      return MIDDLE;
    case 'single-rests-clamped':
      return CLAMP;
    case 'single-rests-unclamped':
      return UNCLAMP;
  }
}

export function readSwitch({ fault }: InterlockCase, s: InterlockState): boolean {
  if (fault === 'crossed-switches') return s.otherMade;
  return s.pressurised || fault === 'shorted-input' || (fault === 'stuck-switch' && s.hasMade);
}

function stopMachine(s: InterlockState, how: InterlockMachine['onPressureLoss']): void {
  if (how === 'stop') s.spindle = false;
  if (how === 'stop' || how === 'feed-hold') s.cutting = false;
}

/** Valve, pressure and control after an event. */
export function settle(interlock: InterlockCase, s: InterlockState): void {
  const { station, machine, fault } = interlock;
  s.valve = moveValve(interlock, s);
  const line = fault === 'crossed-hoses' && s.valve !== MIDDLE ? 1 - s.valve : s.valve;
  if (line === UNCLAMP || s.leaking) s.pressurised = false;
  else if (line === CLAMP && s.air) s.pressurised = true;
  else s.pressurised = s.pressurised && station.checkValve;
  s.hasMade ||= s.pressurised;
  if (!s.power) {
    s.spindle = false;
    s.cutting = false;
    s.believed = false;
    return;
  }
  const isMade = readSwitch(interlock, s);
  if (!isMade) s.hasOpened = true;
  const isLost = s.believed && !isMade && (s.command === 0 || !machine.alarmMasked);
  if (s.command === 1 && (isMade ? s.hasOpened || !machine.switchMustOpen : !s.waits)) {
    s.believed = true;
    s.command = 0;
    // Before it is believed again it must have opened again.
    s.hasOpened = !isMade;
    if (isMade) s.alarm = false;
    if (station.outputs === 'pulsed') s.clampOut = false;
  } else if (s.command === 2 && (!isMade || !s.waits)) {
    s.believed = false;
    s.command = 0;
    if (station.outputs === 'pulsed') s.unclampOut = false;
  }
  if (isLost || (s.believed && !isMade && s.command === 0)) {
    s.believed = false;
    s.alarm = machine.onPressureLoss !== 'nothing';
    stopMachine(s, machine.onPressureLoss);
  }
  if (s.alarm && isMade && !machine.alarmLatches) s.alarm = false;
  if (!s.air && machine.onAirLow === 'stop') stopMachine(s, 'stop');
}

/** A code that waits for its answer lets nothing else begin. */
export const isWaiting = ({ isFormer }: InterlockCase, s: InterlockState): boolean =>
  s.waits && s.command !== 0 && isFormer !== true;

export function mayGoOn(interlock: InterlockCase, s: InterlockState): boolean {
  const isReady = s.power && !s.stopped && !s.alarm && !isWaiting(interlock, s);
  return isReady && (!interlock.machine.cutNeedsSwitch || (s.believed && readSwitch(interlock, s)));
}

export function mayUnclamp({ machine }: InterlockCase, s: InterlockState): boolean {
  if (machine.unclampBlockedWhile === 'turning') return !s.spindle;
  return machine.unclampBlockedWhile === 'never' || !s.cutting;
}

export function setOutputs(s: InterlockState, how: 'keep' | 'drop' | 'unclamp'): void {
  if (how === 'keep') return;
  s.clampOut = false;
  s.unclampOut = how === 'unclamp';
}

export function unclamp(s: InterlockState, waits: boolean): void {
  s.command = 2;
  s.waits = waits;
  s.clampOut = false;
  s.unclampOut = true;
}

/** Codes by which a station is moved one way. */
export const codesOf = (station: InterlockCircuit, action: InterlockCode['action']): readonly InterlockCode[] =>
  station.codes?.filter((code) => code.action === action) ?? [
    { action, code: action === 'clamp' ? station.clampCode : station.unclampCode, waits: station.codesWait },
  ];

/** In which ways an event can happen: a code that waits and one that does not go on differently. */
export function waysOf(station: InterlockCircuit, event: InterlockEvent): readonly boolean[] {
  const action =
    event === 'clamp-code' ? 'clamp' : event === 'unclamp-code' || event === 'manual-unclamp' ? 'unclamp' : null;
  return action === null ? [station.codesWait] : [...new Set(codesOf(station, action).map(({ waits }) => waits))];
}
