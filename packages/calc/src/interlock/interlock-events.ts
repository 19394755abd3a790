import {
  isWaiting,
  mayGoOn,
  mayUnclamp,
  readSwitch,
  setOutputs,
  settle,
  unclamp,
  type InterlockCase,
  type InterlockEvent,
  type InterlockState,
} from './interlock-model.js';

/** What happens, at which interlock, to a state that it may change; `waits`: as the code does that the event is. */
interface Happening {
  readonly interlock: InterlockCase;
  readonly s: InterlockState;
  readonly waits: boolean;
}
/** Changes the state; false: it cannot happen, or is refused. */
type Effect = (happening: Happening) => boolean;

const canRun = ({ power, stopped }: InterlockState): boolean => power && !stopped;

const clampByCode: Effect = ({ interlock, s, waits }) => {
  if (!canRun(s)) return false;
  // What is clamped and known to be so is answered at once; else the old belief ends with the new command.
  s.believed &&= readSwitch(interlock, s);
  s.command = s.believed ? 0 : 1;
  s.waits = waits;
  s.clampOut = interlock.station.outputs === 'held' || !s.believed;
  s.unclampOut = false;
  return true;
};

const unclampByCode: Effect = ({ interlock, s, waits }) => {
  if (!canRun(s) || !mayUnclamp(interlock, s)) return false;
  unclamp(s, waits);
  return true;
};

const unclampByHand: Effect = ({ interlock, s, waits }) => {
  const { machine, fault } = interlock;
  if (fault !== 'manual-mode' || !canRun(s)) return false;
  if (machine.manualInterlocked && !mayUnclamp(interlock, s)) return false;
  unclamp(s, waits);
  return true;
};

const startSpindle: Effect = ({ interlock, s }) => {
  if (s.spindle || !mayGoOn(interlock, s)) return false;
  s.spindle = true;
  return true;
};

const stopSpindle: Effect = ({ s }) => {
  if (!s.spindle) return false;
  s.spindle = false;
  s.cutting = false;
  return true;
};

const startCut: Effect = ({ interlock, s }) => {
  if (!s.spindle || s.cutting || !mayGoOn(interlock, s)) return false;
  s.cutting = true;
  return true;
};

const changePallet: Effect = ({ interlock, s }) => {
  if (!canRun(s) || s.spindle || isWaiting(interlock, s)) return false;
  return !interlock.machine.palletNeedsSwitch || (s.believed && readSwitch(interlock, s));
};

const loseOutputs: Effect = ({ s }) => {
  if (!s.clampOut && !s.unclampOut) return false;
  setOutputs(s, 'drop');
  return true;
};

const stopByEmergency: Effect = ({ interlock: { machine }, s }) => {
  if (!canRun(s)) return false;
  s.stopped = true;
  s.spindle = false;
  s.cutting = false;
  s.command = 0;
  setOutputs(s, machine.onEmergencyStop);
  return true;
};

const reset: Effect = ({ interlock: { machine }, s }) => {
  if (!s.power || !(s.stopped || s.alarm)) return false;
  s.stopped = false;
  s.command = 0;
  if (machine.resetClearsAlarm) s.alarm = false;
  setOutputs(s, machine.onReset);
  return true;
};

const losePower: Effect = ({ s }) => {
  if (!s.power) return false;
  s.power = false;
  s.command = 0;
  return true;
};

const returnPower: Effect = ({ interlock: { machine }, s }) => {
  if (s.power) return false;
  s.power = true;
  setOutputs(s, machine.onPowerReturn);
  return true;
};

const abortCode: Effect = ({ interlock: { fault }, s }) => {
  if (fault !== 'aborted-code' || s.command === 0) return false;
  s.command = 0;
  return true;
};

/** The other station's switch, where the two are crossed. */
const otherMakes =
  (isMade: boolean): Effect =>
  ({ interlock: { fault }, s }) => {
    if (fault !== 'crossed-switches' || s.otherMade === isMade) return false;
    s.otherMade = isMade;
    return true;
  };

/** What is one way becomes the other. */
const turns =
  (name: 'cutting' | 'leaking' | 'air', to: boolean, isPossible: (s: InterlockState) => boolean): Effect =>
  ({ s }) => {
    if (!isPossible(s)) return false;
    s[name] = to;
    return true;
  };

const EFFECTS: Readonly<Record<InterlockEvent, Effect>> = {
  'clamp-code': clampByCode,
  'unclamp-code': unclampByCode,
  'manual-unclamp': unclampByHand,
  'spindle-start': startSpindle,
  'spindle-stop': stopSpindle,
  'cut-start': startCut,
  'cut-end': turns('cutting', false, ({ cutting }) => cutting),
  'pallet-to-spindle': changePallet,
  'pressure-loss': turns('leaking', true, ({ pressurised }) => pressurised),
  'pressure-return': turns('leaking', false, ({ leaking }) => leaking),
  'output-loss': loseOutputs,
  'emergency-stop': stopByEmergency,
  reset,
  'power-off': losePower,
  'power-on': returnPower,
  'air-off': turns('air', false, ({ air }) => air),
  'air-on': turns('air', true, ({ air }) => !air),
  'other-clamps': otherMakes(true),
  'other-opens': otherMakes(false),
  'code-aborted': abortCode,
};

/** The state after an event, or null when it cannot happen or is refused; `waits`: as the code does that the event is. */
export function applyEvent(
  interlock: InterlockCase,
  from: InterlockState,
  event: InterlockEvent,
  waits = interlock.station.codesWait,
): InterlockState | null {
  const s = { ...from };
  if (!EFFECTS[event]({ interlock, s, waits })) return null;
  settle(interlock, s);
  if (s.command === 0) s.waits = interlock.station.codesWait;
  return s;
}
