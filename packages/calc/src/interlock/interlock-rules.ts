import {
  CLAMP,
  findCoils,
  UNCLAMP,
  type InterlockCase,
  type InterlockEvent,
  type InterlockState,
} from './interlock-model.js';

export interface InterlockTransition {
  interlock: InterlockCase;
  before: InterlockState;
  event: InterlockEvent;
  after: InterlockState;
}

const LOSSES: readonly InterlockEvent[] = ['power-off', 'power-on', 'output-loss', 'emergency-stop', 'reset'];

/** Each rule: true when a transition breaks it. */
export const INTERLOCK_RULES = {
  /** never both coils of one valve energised */
  'never-both-coils': ({ interlock, after }: InterlockTransition): boolean => {
    const { clamp, unclamp } = findCoils(interlock, after);
    return clamp && unclamp;
  },
  /** no cutting without pressure: a cut that starts, or goes on, on a part that is not clamped */
  'no-cutting-unclamped': ({ event, after }: InterlockTransition): boolean =>
    after.cutting && !after.pressurised && event !== 'pressure-loss' && event !== 'air-off',
  /** no pallet to the spindle without pressure */
  'no-pallet-unclamped': ({ event, after }: InterlockTransition): boolean =>
    event === 'pallet-to-spindle' && !after.pressurised,
  /** losing pressure while cutting stops the machine */
  'pressure-loss-stops': ({ before, event, after }: InterlockTransition): boolean =>
    event === 'pressure-loss' && before.cutting && (after.cutting || after.spindle),
  /** losing power, an output or a wire, emergency stop, reset and restart never unclamp */
  'losses-never-unclamp': ({ before, event, after }: InterlockTransition): boolean =>
    LOSSES.includes(event) && before.pressurised && !after.pressurised,
  /** nor do they close clamps on a hand (ISO 14118, unexpected start-up; clause not verified); of power that returns the rule below tells */
  'losses-never-clamp': ({ before, event, after }: InterlockTransition): boolean =>
    LOSSES.includes(event) &&
    event !== 'power-on' &&
    !before.pressurised &&
    (after.pressurised || (before.valve !== CLAMP && after.valve === CLAMP)),
  /** losing air leaves it held, or stops the machine */
  'air-loss-held-or-stops': ({ before, event, after }: InterlockTransition): boolean =>
    event === 'air-off' && before.cutting && after.cutting && !after.pressurised,
  /** power or air that returns moves no clamp */
  'return-moves-nothing': ({ interlock, before, event, after }: InterlockTransition): boolean =>
    (event === 'power-on' || (event === 'air-on' && interlock.machine.airReturn === 'at-once')) &&
    (before.pressurised !== after.pressurised || before.valve !== after.valve),
  /** a switch that did not open after unclamping is not believed */
  'unopened-switch-not-believed': ({ before, event, after }: InterlockTransition): boolean =>
    event === 'clamp-code' && !before.believed && after.believed && !after.pressurised,
  /** no unclamping while cutting or while the spindle turns */
  'no-unclamping-while-turning': ({ before, event, after }: InterlockTransition): boolean =>
    (event === 'unclamp-code' || event === 'manual-unclamp') &&
    before.spindle &&
    before.pressurised &&
    (after.valve === UNCLAMP || !after.pressurised),
  /** a lost clamp raises an alarm that stays until reclamped */
  'alarm-latches': ({ before, event, after }: InterlockTransition): boolean => {
    const isLost =
      event === 'pressure-loss' && before.believed && before.command === 0 && !after.believed && !after.alarm;
    const isGone = before.alarm && !after.alarm && !after.believed && after.power;
    return isLost || isGone;
  },
  /** the alarm is silent during a commanded unclamping */
  'alarm-masked-while-unclamping': ({ before, event, after }: InterlockTransition): boolean =>
    event === 'unclamp-code' && !before.alarm && after.alarm,
} as const satisfies Record<string, (transition: InterlockTransition) => boolean>;

export type InterlockRule = keyof typeof INTERLOCK_RULES;
export const INTERLOCK_RULE_NAMES = Object.keys(INTERLOCK_RULES) as InterlockRule[];
/** Those by which proofs of older records were made. */
export const FORMER_RULE_NAMES = INTERLOCK_RULE_NAMES.filter((rule) => rule !== 'losses-never-clamp');
