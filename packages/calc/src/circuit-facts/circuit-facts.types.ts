/**
 * What is recorded of one circuit, and of all that its proof looks at beside it: plain JSON, SI, unit last in the name.
 * `null` means "nobody has said": nothing is put in its place.
 */
import type { MarginCode } from '../circuit-checks/checks.js';
import type { CIRCUIT_FIGURES } from '../figures/circuit-figures.js';
import type { ComponentKind } from '../figures/component-figures.js';
import type { ControlFactsOf, FactsOf } from '../figures/figure.types.js';
import type { ELEMENT_FIGURES, FIXTURE_FIGURES } from '../figures/fixture-figures.js';
import type { MACHINE_FIGURES } from '../figures/machine-figures.js';
import type { POWER_UNIT_FIGURES } from '../figures/power-unit-figures.js';
import type { InterlockMachine } from '../interlock/interlock-model.js';

export type { ComponentKind };
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
  /** of a relief or a switch in the clamp line: it sits between what shuts the clamps off and the clamps; null or left out: nobody has said */
  isBeyondShutOff?: boolean | null;
  /** figure -> value [SI], its own before its type's; absent: not known */
  figures: Readonly<Record<string, number>>;
}

export interface FixtureElementFacts extends FactsOf<typeof ELEMENT_FIGURES> {
  id: string;
  kind: 'clamp' | 'support' | 'locator';
  name: string;
  quantity: number;
}

export interface FixtureFacts extends FactsOf<typeof FIXTURE_FIGURES> {
  id: string;
  name: string;
  elements: readonly FixtureElementFacts[];
}

/** What a support bears in an operation, as it was computed: at a pressure, and more with each further pascal. */
export interface SupportLoadFacts {
  elementId: string;
  loadN: number | null;
  atPressurePa: number;
  loadPerPaN: number | null;
}

export interface OperationFacts {
  id: string;
  number: number;
  name: string;
  requiredPressurePa: number | null;
  requiredBasis: 'typed' | 'computed';
  workpieceLimitPa: number | null;
  workpieceNotLimiting: boolean;
  /** by how much more may be required, by the spread of specific cutting force and of friction, where it was computed; left out: it was not */
  specificForceSpreadPa?: number | null;
  frictionSpreadPa?: number | null;
  /** the load case that no pressure holds, where that was computed; left out: there is none, or nobody has computed */
  unheldCase?: string;
  /** pressure at which a locator bears the largest force that it may, and which, where that was computed; null: not known; left out: none has a
   *  limit, or nobody has computed */
  locatorLimitPa?: number | null;
  limitingLocator?: string;
  /** of the fixture's supports, where it was computed; left out: it was not */
  supportLoads?: readonly SupportLoadFacts[];
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

/** A component that was fitted or taken away. */
export type ChangedComponent = Pick<ComponentFacts, 'kind' | 'lineFunctions'>;

/** What an installer read when the settings were left: it holds for the setting, the air, the oil, the fixture and the hardware of that day. */
export interface ReadingFacts {
  settingPa: number | null;
  airPressurePa: number | null;
  /** at which the switch made; left out: of a record made before it was asked, as it is now */
  setPointPa?: number | null;
  /** fixture on the station at that time; null: none was */
  fixtureId: string | null;
  /** its clamps, supports and locators when it was recorded; null or left out: not kept, they count as what they are now */
  fixtureElements?: readonly FixtureElementFacts[] | null;
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
  /** what was fitted to the circuit or its power unit since, or taken away; left out: nothing, or of a record made before it was asked */
  changed?: readonly ChangedComponent[];
}

export interface CircuitRowFacts extends FactsOf<typeof CIRCUIT_FIGURES> {
  id: string;
  name: string;
  stationId: string;
}

export interface PowerUnitFacts extends FactsOf<typeof POWER_UNIT_FIGURES> {
  drive: 'air' | 'electric';
}

export interface ControlMachineFacts extends FactsOf<typeof MACHINE_FIGURES> {
  id: string;
  name: string;
  /** a member that is absent or null: nobody has said */
  behaviour: Partial<{ [K in keyof InterlockMachine]: InterlockMachine[K] | null }>;
}
export interface ControlCircuitFacts extends ControlFactsOf<typeof CIRCUIT_FIGURES> {
  id: string;
  name: string;
  stationId: string;
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
  /** that fixture with the clamps that it has, and what is fitted to that circuit, have been there since before this circuit's readings; without
   *  one, nothing takes more oil than was read; null: not known; left out: of a record made before it was asked */
  isFixtureAsRead?: boolean | null;
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
