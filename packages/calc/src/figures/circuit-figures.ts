import { BULK_MODULUS_WITHIN, type Figures } from './figure.types.js';

/** What is said of a circuit beside its name and its place. */
export const CIRCUIT_FIGURES = {
  hasReducingValve: {
    type: 'answer',
    isAlwaysSaid: true,
    // Behind a reducing valve the pump's stall is cut off at the setting: slower, and gentler.
    worse: 'either',
    column: { header: 'Reducing valve', synonyms: ['has reducing valve'] },
    field: { group: 'reducing' },
  },
  /** of three ports: what warms up behind it goes to the tank; one of two shuts it in */
  reducingValveRelieves: {
    type: 'answer',
    worse: 'false',
    column: { header: 'Reducing valve relieves' },
    field: { group: 'reducing' },
  },
  canTrap: {
    type: 'answer',
    worse: 'true',
    column: { header: 'Oil can be shut in', synonyms: ['can trap'] },
    field: { group: 'main' },
  },
  trappedTemperatureRise: {
    usual: [0.1, 60, 'K'],
    type: 'quantity',
    kind: 'temperature-difference',
    isZeroAllowed: true,
    worse: 'higher',
    column: { header: 'Trapped oil warms by' },
    field: { group: 'trapped', unit: 'K' },
  },
  /** volumetric, oil less walls, per kelvin */
  trappedNetExpansionPerK: {
    type: 'number',
    least: 0,
    most: 0.01,
    worse: 'higher',
    column: { header: 'Net expansion per kelvin' },
    field: { group: 'trapped' },
  },
  trappedBulkModulus: {
    type: 'quantity',
    kind: 'modulus',
    within: BULK_MODULUS_WITHIN,
    // What warms up in the clamp line presses harder, against its ratings, and against what warms up in the unclamp line.
    worse: 'either',
    column: { header: 'Bulk modulus' },
    field: { group: 'trapped', unit: 'GPa' },
  },
  /** of oil and walls of the unclamp line, which may be the stiffer one: it has no hose, or a shorter one */
  unclampBulkModulus: {
    type: 'quantity',
    kind: 'modulus',
    within: BULK_MODULUS_WITHIN,
    worse: 'higher',
    column: { header: 'Bulk modulus of the unclamp line' },
    field: { group: 'trapped', unit: 'GPa' },
  },
  unclampLineCanBlock: {
    type: 'answer',
    worse: 'true',
    column: { header: 'Unclamp line can be blocked' },
    field: { group: 'main' },
  },
  clampTimeAllowed: {
    usual: [0.1, 60, 's'],
    type: 'quantity',
    kind: 'time',
    worse: 'lower',
    column: { header: 'Clamp time allowed' },
    field: { group: 'main', place: 'first', unit: 's' },
  },
  unclampTimeAllowed: {
    usual: [0.1, 60, 's'],
    type: 'quantity',
    kind: 'time',
    worse: 'lower',
    column: { header: 'Unclamp time allowed' },
    field: { group: 'main', place: 'first', unit: 's' },
  },
  /** at times without its supply: a decoupled pallet, a circuit held by check valves */
  isDecoupled: {
    type: 'answer',
    worse: 'true',
    column: { header: 'At times without supply', synonyms: ['decoupled', 'is decoupled'] },
    field: { group: 'main' },
  },
  /** the longest that it is without */
  timeWithoutSupply: {
    usual: [0.05, 100, 'h'],
    type: 'quantity',
    kind: 'time',
    worse: 'higher',
    column: { header: 'Longest time without supply' },
    field: { group: 'without-supply', unit: 'h' },
  },
  /** cooling to be reckoned with in that time */
  coolingWithoutSupply: {
    usual: [0.1, 40, 'K'],
    type: 'quantity',
    kind: 'temperature-difference',
    isZeroAllowed: true,
    worse: 'higher',
    column: { header: 'Cooling without supply' },
    field: { group: 'without-supply', unit: 'K' },
  },
  /** its pressure is proved again before the pallet enters the machine */
  isProvedAgain: {
    type: 'answer',
    worse: 'false',
    column: { header: 'Pressure proved again' },
    field: { group: 'without-supply' },
  },
  /** what the directional valve does: held where it was, sprung to the middle, or resting clamped or unclamped */
  valveBehaviour: {
    type: 'choice',
    choices: ['double-detented', 'double-centred', 'single-rests-clamped', 'single-rests-unclamped'],
    // What is safe on one fault is unsafe on another.
    worse: 'either',
    seenByControl: 'alone',
    column: { header: 'Valve behaviour' },
    field: { group: 'main', place: 'last' },
  },
  /** check valves keep the pressure when supply or air is lost */
  isCheckHeld: {
    type: 'answer',
    worse: 'true',
    seenByControl: 'too',
    column: { header: 'Held by check valves' },
    field: { group: 'opening', place: 'last' },
  },
  /** a robot or loader trusts that the fixture is open */
  needsOpenProof: {
    type: 'answer',
    worse: 'true',
    column: { header: 'Open must be proved' },
    field: { group: 'main' },
  },
  /** something other than "no pressure" proves it open */
  hasOpenProof: {
    type: 'answer',
    worse: 'false',
    column: { header: 'Open is proved' },
    field: { group: 'opening' },
  },
  /** highest pressure in the tank line while unclamping */
  returnPressure: {
    usual: [0.05, 30, 'bar'],
    type: 'quantity',
    kind: 'pressure',
    isZeroAllowed: true,
    // Against it springs return and clamps open; while clamping it holds them back.
    worse: 'either',
    column: { header: 'Highest return pressure' },
    field: { group: 'opening' },
  },
} as const satisfies Figures;
