/**
 * What is recorded of one circuit, and of all that its proof looks at beside it: plain JSON, SI, unit last in the name.
 * `null` means "nobody has said": nothing is put in its place.
 */
import type { InterlockMachine, InterlockValve } from '../interlock/interlock-model.js';
import type { MarginCode } from '../circuit-checks/checks.js';

/** Kinds of component, in the terms of ISO 5598. */
export type ComponentKind =
  | 'pump'
  | 'reservoir'
  | 'pressure-regulator'
  | 'reducing-valve'
  | 'relief-valve'
  | 'directional-valve'
  | 'check-valve'
  | 'sequence-valve'
  | 'flow-control-valve'
  | 'pressure-switch'
  | 'gauge'
  | 'tube'
  | 'hose'
  | 'fitting'
  | 'quick-coupling'
  | 'rotary-union'
  | 'through-table-coupling'
  | 'manifold'
  | 'accumulator'
  | 'filter'
  | 'swing-clamp'
  | 'lever-clamp'
  | 'cylinder'
  | 'work-support'
  | 'relay'
  | 'power-supply';

export type LineFunction = 'supply' | 'clamp' | 'unclamp' | 'tank';

export interface ComponentFacts {
  id: string;
  /** where it sits: in the circuit itself, or in the power unit that feeds it */
  place: 'circuit' | 'power-unit';
  kind: ComponentKind;
  /** designation at the machine and name of its type */
  name: string;
  lineFunctions: readonly LineFunction[];
  /** of a pressure switch: where it senses */
  sensing: 'pump' | 'manifold' | 'clamp-line' | null;
  /** figure -> value [SI], its own before its type's; absent: not known */
  figures: Readonly<Record<string, number>>;
}

export interface FixtureElementFacts {
  id: string;
  kind: 'clamp' | 'support' | 'locator';
  name: string;
  quantity: number;
  form: 'swing-clamp' | 'lever-clamp' | 'cylinder' | null;
  acting: 'single' | 'double' | null;
  ratedPressurePa: number | null;
  leastWorkingPressurePa: number | null;
  ratedForceN: number | null;
  boreM: number | null;
  rodM: number | null;
  strokeM: number | null;
  springForceN: number | null;
  frictionN: number | null;
  viscousFrictionNsPerM: number | null;
  contactStiffnessNPerM: number | null;
  highestFlowM3PerS: number | null;
  armPressurePa: number | null;
  /** clamping and cutting load upon a support: computed with its operations, else as typed */
  highestLoadN: number | null;
}

export interface FixtureFacts {
  id: string;
  name: string;
  ratedPressurePa: number | null;
  elements: readonly FixtureElementFacts[];
}

export interface OperationFacts {
  id: string;
  number: number;
  name: string;
  requiredPressurePa: number | null;
  requiredBasis: 'typed' | 'computed';
  workpieceLimitPa: number | null;
  workpieceNotLimiting: boolean;
}

/** What was released by an engineer, or stands at the machine. */
export interface SettingsFacts {
  settingPa: number | null;
  settingTolerancePa: number | null;
  setPointPa: number | null;
  resetPointPa: number | null;
  airPressurePa: number | null;
  pumpRestartPa: number | null;
  pumpRestartTolerancePa: number | null;
}

/** What an installer read when the settings were left: it holds for the setting, the air and the fixture at which it was read. */
export interface ReadingFacts {
  settingPa: number | null;
  airPressurePa: number | null;
  /** fixture on the station at that time; null: none was */
  fixtureId: string | null;
  decayPa: number | null;
  decayDurationS: number | null;
  gaugeSpanPa: number | null;
  /** accuracy class of EN 837-1 */
  gaugeClass: number | null;
  lowestWhileSharedPa: number | null;
  clampTimeS: number | null;
  contactTimeS: number | null;
  unclampTimeS: number | null;
  timeToleranceS: number | null;
  oilTemperatureK: number | null;
}

export interface CircuitRowFacts {
  id: string;
  name: string;
  stationId: string;
  hasReducingValve: boolean;
  canTrap: boolean | null;
  trappedTemperatureRiseK: number | null;
  trappedNetExpansionPerK: number | null;
  trappedBulkModulusPa: number | null;
  unclampLineCanBlock: boolean | null;
  /** check valves keep the pressure when supply or air is lost */
  isCheckHeld: boolean | null;
  isDecoupled: boolean | null;
  timeWithoutSupplyS: number | null;
  coolingWithoutSupplyK: number | null;
  isProvedAgain: boolean | null;
  clampTimeAllowedS: number | null;
  unclampTimeAllowedS: number | null;
  needsOpenProof: boolean | null;
  hasOpenProof: boolean | null;
  returnPressurePa: number | null;
}

export interface PowerUnitFacts {
  drive: 'air' | 'electric';
  plantAirLowPa: number | null;
  plantAirHighPa: number | null;
  oilViscosityAt40M2PerS: number | null;
  oilViscosityAt100M2PerS: number | null;
  oilDensityKgPerM3: number | null;
  oilBulkModulusPa: number | null;
  oilAirFraction: number | null;
  coldOilTemperatureK: number | null;
  workingOilTemperatureK: number | null;
}

export interface ControlMachineFacts {
  id: string;
  name: string;
  controlReactionS: number | null;
  controlVoltageV: number | null;
  supplyRatingW: number | null;
  supplyPeakW: number | null;
  controlLoadW: number | null;
  controlLoadPeakW: number | null;
  supplyReserveRatio: number | null;
  controlTemperatureK: number | null;
  hasSeparateCommons: boolean | null;
  outputRatingV: number | null;
  /** a member that is absent or null: nobody has said */
  behaviour: Partial<{ [K in keyof InterlockMachine]: InterlockMachine[K] | null }>;
}
export interface ControlCircuitFacts {
  id: string;
  name: string;
  stationId: string;
  valveBehaviour: InterlockValve | null;
  isCheckHeld: boolean | null;
  /** a directional valve is fitted */
  hasValve: boolean;
  /** of one of its coils; null: none fitted, or not known */
  coilPowerW: number | null;
}
export interface SignalFacts {
  id: string;
  circuitId: string;
  direction: 'output' | 'input';
  name: string;
  actsOn: string;
  suppression: string | null;
  suppressionVoltageV: number | null;
  isPolarityRight: boolean | null;
  isHeldOn: boolean | null;
}
export interface WireFacts {
  id: string;
  signalId: string;
  number: string;
  crossSectionM2: number | null;
  lengthM: number | null;
  insulationVoltageV: number | null;
  protectionA: number | null;
  conductorLimitA: number | null;
  highestInCableV: number | null;
}
export interface MCodeFacts {
  id: string;
  stationId: string | null;
  code: string;
  action: 'clamp' | 'unclamp' | 'other';
  waitsForAnswer: boolean | null;
}
/** The control of a machine, with every circuit of it: they may share signals, and they share the supply. */
export interface ControlFacts {
  machine: ControlMachineFacts;
  circuits: readonly ControlCircuitFacts[];
  signals: readonly SignalFacts[];
  wires: readonly WireFacts[];
  mCodes: readonly MCodeFacts[];
}

/** Another circuit of the same power unit: it draws on the same reservoir, and this one must hold while it clamps. */
export interface NeighbourFacts {
  id: string;
  name: string;
  fixture: FixtureFacts | null;
  components: readonly ComponentFacts[];
}

export interface CircuitFacts {
  circuit: CircuitRowFacts;
  powerUnit: PowerUnitFacts;
  /** of the circuit first, then of its power unit */
  components: readonly ComponentFacts[];
  /** fitted on the circuit's station; null: none is */
  fixture: FixtureFacts | null;
  operations: readonly OperationFacts[];
  settings: {
    /** what is proved, and whether it is what was read at the machine; null: nothing was set or released */
    inUse: SettingsFacts | null;
    isAsLeft: boolean;
    /** what was read when the settings were last left; null: never */
    readings: ReadingFacts | null;
  };
  neighbours: readonly NeighbourFacts[];
  control: ControlFacts;
  /** least probability with which a check must hold [1], 0 <= p < 1 */
  leastProbability: number;
  /** per check: margin asked for as a share of the capacity [1], 0 <= margin < 1 */
  marginsAsked: Readonly<Record<MarginCode, number>>;
}
