import type { Figures } from './figure.types.js';

export const MACHINE_MAKE = {
  madeYear: {
    type: 'number',
    isWhole: true,
    least: 1950,
    most: 2100,
    column: { header: 'Year made', synonyms: ['year', 'made', 'build year', 'year of manufacture'] },
    field: { group: 'name' },
  },
} as const satisfies Figures;

/** Of the control, as far as a machine is chosen by it. */
export const MACHINE_CONTROL = {
  supplyVoltageV: {
    type: 'number',
    least: 0,
    most: 1000,
    column: { header: 'Supply voltage', synonyms: ['voltage'], kind: 'voltage', unit: 'V' },
    field: { group: 'control' },
  },
  spareInputs: {
    type: 'number',
    isWhole: true,
    least: 0,
    most: 1000,
    column: { header: 'Spare inputs' },
    field: { group: 'control' },
  },
  spareOutputs: {
    type: 'number',
    isWhole: true,
    least: 0,
    most: 1000,
    column: { header: 'Spare outputs' },
    field: { group: 'control' },
  },
  /** from the switch opening until the spindle stands */
  controlReaction: {
    type: 'quantity',
    kind: 'time',
    isZeroAllowed: true,
    worse: 'higher',
    column: { header: 'Control reaction', synonyms: ['reaction time'] },
    field: { group: 'form', unit: 's' },
  },
} as const satisfies Figures;

/** Of what feeds the control, its outputs and its wires. */
export const MACHINE_SUPPLY = {
  /** of the 24 V supply, as measured */
  controlVoltageV: {
    type: 'number',
    least: 0,
    isAboveLeast: true,
    most: 1000,
    // Too high and too low are both wrong for a coil.
    worse: 'either',
    column: { header: 'Control voltage as measured', kind: 'voltage', unit: 'V' },
    field: { group: 'supply' },
  },
  supplyRatingW: {
    type: 'number',
    least: 0,
    isAboveLeast: true,
    most: 1e6,
    worse: 'lower',
    column: { header: 'Rating of the control supply', kind: 'power', unit: 'W' },
    field: { group: 'supply' },
  },
  /** what the supply bears for a moment; null: its maker states none */
  supplyPeakW: {
    type: 'number',
    least: 0,
    isAboveLeast: true,
    most: 1e6,
    worse: 'lower',
    column: { header: 'Peak of the control supply', kind: 'power', unit: 'W' },
    field: { group: 'supply' },
  },
  /** all else that the supply feeds, coils left out */
  controlLoadW: {
    type: 'number',
    least: 0,
    most: 1e6,
    worse: 'higher',
    column: { header: 'Control load', kind: 'power', unit: 'W' },
    field: { group: 'supply' },
  },
  controlLoadPeakW: {
    type: 'number',
    least: 0,
    most: 1e6,
    worse: 'higher',
    column: { header: 'Peak of the control load', kind: 'power', unit: 'W' },
    field: { group: 'supply' },
  },
  /** asked for above the load, as a share */
  supplyReserveRatio: {
    type: 'number',
    least: 0,
    most: 1,
    worse: 'higher',
    column: { header: 'Reserve of the control supply' },
    field: { group: 'supply' },
  },
  /** of the wires at work */
  controlTemperature: {
    type: 'quantity',
    kind: 'temperature',
    worse: 'higher',
    column: { header: 'Temperature of the wires' },
    field: { group: 'supply', unit: 'Cel' },
  },
  /** inputs and outputs on commons of their own */
  hasSeparateCommons: {
    type: 'answer',
    worse: 'false',
    column: { header: 'Separate commons' },
    field: { group: 'supply' },
  },
  /** highest voltage that its outputs, or the contacts between, bear */
  outputRatingV: {
    type: 'number',
    least: 0,
    isAboveLeast: true,
    most: 10_000,
    worse: 'lower',
    column: { header: 'Outputs bear', kind: 'voltage', unit: 'V' },
    field: { group: 'supply' },
  },
} as const satisfies Figures;

/** What is said of a machine in numbers and answers. */
export const MACHINE_FIGURES = { ...MACHINE_MAKE, ...MACHINE_CONTROL, ...MACHINE_SUPPLY };
