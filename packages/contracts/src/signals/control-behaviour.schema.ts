import { z } from 'zod';

const said = { boolean: z.boolean().nullable().default(null) };
const oneOf = <const V extends [string, ...string[]]>(...values: V) => z.enum(values).nullable().default(null);

/** What a machine's control does, in so far as somebody has said; null: nobody has. */
export const controlBehaviourSchema = z
  .strictObject({
    onPressureLoss: oneOf('stop', 'feed-hold', 'alarm-only', 'nothing'),
    /** spindle and cut ask for the switch */
    cutNeedsSwitch: said.boolean,
    palletNeedsSwitch: said.boolean,
    unclampBlockedWhile: oneOf('turning', 'cutting', 'never'),
    alarmLatches: said.boolean,
    resetClearsAlarm: said.boolean,
    /** silent while an unclamping is commanded and while a clamping is timed */
    alarmMasked: said.boolean,
    /** what becomes of the outputs */
    onEmergencyStop: oneOf('keep', 'drop'),
    onReset: oneOf('keep', 'drop', 'unclamp'),
    onPowerReturn: oneOf('keep', 'drop'),
    onAirLow: oneOf('stop', 'nothing'),
    /** air that comes back waits for a person, or is let in at once */
    airReturn: oneOf('by-hand', 'at-once'),
    /** after unclamping the switch must have opened before it is believed again */
    switchMustOpen: said.boolean,
    /** manual mode obeys the same blocks as the codes */
    manualInterlocked: said.boolean,
  })
  .meta({ id: 'ControlBehaviour' });
export type ControlBehaviour = z.infer<typeof controlBehaviourSchema>;
/** Nothing said. */
export const UNSAID_BEHAVIOUR: ControlBehaviour = controlBehaviourSchema.parse({});
