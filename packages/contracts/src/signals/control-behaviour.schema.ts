import { z } from 'zod';

const answer = { boolean: z.boolean().nullable().default(null) };
const oneOf = <const V extends [string, ...string[]]>(...values: V) => z.enum(values).nullable().default(null);

/** What a machine's control does, in so far as somebody has said; null: nobody has. */
export const controlBehaviourSchema = z
  .strictObject({
    onPressureLoss: oneOf('stop', 'feed-hold', 'alarm-only', 'nothing'),
    /** spindle and cut ask for the switch */
    cutNeedsSwitch: answer.boolean,
    palletNeedsSwitch: answer.boolean,
    unclampBlockedWhile: oneOf('turning', 'cutting', 'never'),
    alarmLatches: answer.boolean,
    resetClearsAlarm: answer.boolean,
    /** silent while an unclamping is commanded and while a clamping is timed */
    alarmMasked: answer.boolean,
    /** what becomes of the outputs */
    onEmergencyStop: oneOf('keep', 'drop'),
    onReset: oneOf('keep', 'drop', 'unclamp'),
    onPowerReturn: oneOf('keep', 'drop'),
    onAirLow: oneOf('stop', 'nothing'),
    /** air that comes back waits for a person, or is let in at once */
    airReturn: oneOf('by-hand', 'at-once'),
    /** after unclamping the switch must have opened before it is believed again */
    switchMustOpen: answer.boolean,
    /** manual mode obeys the same blocks as the codes */
    manualInterlocked: answer.boolean,
  })
  .meta({ id: 'ControlBehaviour' });
export type ControlBehaviour = z.infer<typeof controlBehaviourSchema>;
/** Nothing said. */
export const UNSAID_BEHAVIOUR: ControlBehaviour = controlBehaviourSchema.parse({});
