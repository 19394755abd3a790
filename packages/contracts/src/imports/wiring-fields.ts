import {
  actsOnSchema,
  mCodeActionSchema,
  signalDirectionSchema,
  suppressionSchema,
} from '../signals/signals.schema.js';
import { fieldsOf, type ImportField } from './import-field-model.js';

const mCode = fieldsOf('m-code');
const signal = fieldsOf('signal');
const wire = fieldsOf('wire');

const MARK = { max: 60 } as const;
const SHORT = { max: 400 } as const;
const NOTE = { max: 4000 } as const;

/** Codes, signals and wires of a machine's control, in the bounds of their contracts. */
export const CONTROL_WIRING_FIELDS: readonly ImportField[] = [
  mCode('code', 'M-code', 'text', { required: true, ...MARK, synonyms: ['m code', 'code'] }),
  mCode('action', 'M-code action', 'choice', {
    required: true,
    choices: mCodeActionSchema.options,
    synonyms: ['action'],
  }),
  mCode('waitsForAnswer', 'Waits for the answer', 'boolean'),
  mCode('timeOut', 'M-code time-out', 'quantity', { kind: 'time', synonyms: ['time-out', 'timeout'] }),
  mCode('note', 'M-code note', 'text', NOTE),

  signal('name', 'Signal', 'text', { required: true, ...MARK, synonyms: ['signal name'] }),
  signal('direction', 'Direction', 'choice', { required: true, choices: signalDirectionSchema.options }),
  signal('address', 'Signal address', 'text', {
    ...SHORT,
    synonyms: ['i/o address', 'output address', 'input address'],
  }),
  signal('actsOn', 'Acts on', 'choice', { choices: actsOnSchema.options }),
  signal('component', 'Signal of component', 'text', { max: 40, synonyms: ['switch of signal'] }),
  signal('relay', 'Relay', 'text', SHORT),
  signal('contact', 'Relay contact', 'text', { ...SHORT, synonyms: ['contacts'] }),
  signal('alarm', 'Alarm', 'text', SHORT),
  signal('reaction', 'Reaction', 'text', SHORT),
  signal('suppression', 'Suppression', 'choice', { choices: suppressionSchema.options }),
  signal('suppressionVoltageV', 'Suppression voltage', 'quantity', { kind: 'voltage', zero: true }),
  signal('isPolarityRight', 'Polarity right', 'boolean'),
  signal('isHeldOn', 'Held on', 'boolean'),
  signal('note', 'Signal note', 'text', NOTE),

  wire('number', 'Wire', 'text', { required: true, ...MARK, synonyms: ['wire number', 'wire no'] }),
  wire('fromTerminal', 'From terminal', 'text', { required: true, ...MARK }),
  wire('toTerminal', 'To terminal', 'text', { required: true, ...MARK }),
  wire('colour', 'Wire colour', 'text', { ...SHORT, synonyms: ['colour', 'color'] }),
  wire('crossSection', 'Cross-section', 'quantity', { kind: 'area' }),
  wire('length', 'Wire length', 'quantity', { kind: 'length' }),
  wire('insulationVoltageV', 'Insulated for', 'quantity', { kind: 'voltage', zero: true }),
  wire('protectionA', 'Protected by', 'quantity', { kind: 'current' }),
  wire('conductorLimitA', 'Conductor carries', 'quantity', { kind: 'current' }),
  wire('highestInCableV', 'Highest voltage in its cable', 'quantity', { kind: 'voltage', zero: true }),
  wire('note', 'Wire note', 'text', NOTE),
];
