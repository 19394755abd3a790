import type { z } from 'zod';
import { controlBehaviourSchema, type ControlBehaviour } from '../signals/control-behaviour.schema.js';
import { fieldsOf, type ImportField } from './import-field-model.js';

/** How what a control does is headed in a spreadsheet. */
const HEADERS: Readonly<Record<keyof ControlBehaviour, string>> = {
  onPressureLoss: 'When pressure is lost',
  cutNeedsSwitch: 'Cut needs the switch',
  palletNeedsSwitch: 'Pallet needs the switch',
  unclampBlockedWhile: 'Unclamping blocked while',
  alarmLatches: 'Alarm latches',
  resetClearsAlarm: 'Reset clears the alarm',
  alarmMasked: 'Alarm masked while it moves',
  onEmergencyStop: 'Outputs on emergency stop',
  onReset: 'Outputs on reset',
  onPowerReturn: 'Outputs when power returns',
  onAirLow: 'When air is low',
  airReturn: 'Air that returns',
  switchMustOpen: 'Switch must open',
  manualInterlocked: 'Manual mode interlocked',
};

const isKnown = (name: string): name is keyof ControlBehaviour => Object.hasOwn(HEADERS, name);

/** The words that can be chosen; null: it is answered by yes or no. */
function choicesOf(schema: z.ZodType): readonly string[] | null {
  const found = 'unwrap' in schema && typeof schema.unwrap === 'function' ? (schema.unwrap() as z.ZodType) : null;
  if (found !== null) return choicesOf(found);
  return 'options' in schema && Array.isArray(schema.options) ? (schema.options as string[]) : null;
}

const machine = fieldsOf('machine');

/** What a machine's control does: a column for each of its rules. */
export const CONTROL_BEHAVIOUR_FIELDS: readonly ImportField[] = Object.entries(controlBehaviourSchema.shape).flatMap(
  ([name, schema]) => {
    if (!isKnown(name)) return [];
    const choices = choicesOf(schema);
    return [
      choices === null ? machine(name, HEADERS[name], 'boolean') : machine(name, HEADERS[name], 'choice', { choices }),
    ];
  },
);
