/**
 * The shape of the pressure ladder of one circuit: what it is computed from and what it says.
 * All pressures are gauge, in pascal. `null` means "not known": nothing is assumed in its place.
 * Half widths are the largest deviation either way (three standard deviations where a normal distribution is meant).
 */
import type { InterlockFault } from '../interlock/interlock-model.js';
import type { InterlockRule } from '../interlock/interlock-rules.js';
import type { CheckCode, CheckReason } from '../circuit-checks/checks.js';
import type { CircuitCheckKind, CircuitMargin } from '../circuit-checks/circuit-checks.types.js';

/** What a figure is taken from, so that a page can open it. `entity` and `id` are opaque to the calculation. */
export interface FigureRef {
  entity: string;
  id: string;
  name: string;
}

export interface ProvedOperation {
  ref: FigureRef;
  /** least pressure at which this operation is held [Pa]; null: not known */
  requiredPressurePa: number | null;
  /** how `requiredPressurePa` came about */
  requiredBasis: 'typed' | 'computed';
  /** most pressure that the workpiece allows in this operation [Pa]; null: not known */
  workpieceLimitPa: number | null;
  /** true when a named person stated, with a reason, that the workpiece does not limit the pressure */
  workpieceNotLimiting: boolean;
  /** by how much more it may be, by the spread of specific cutting force and of friction [Pa]; null: not known; left out: not reckoned with */
  specificForceSpreadPa?: number | null;
  frictionSpreadPa?: number | null;
  /** the load case that no pressure holds; left out: none such is known */
  unheldCase?: string;
  /** pressure at which a locator bears the largest force that it may [Pa], and which; null: not known; left out: none has a limit */
  locatorLimitPa?: number | null;
  limitingLocator?: string;
}

/** A clamp whose pad may press too hard on the face of the workpiece. */
export interface ProvedPad {
  ref: FigureRef;
  /** pressure of the circuit at which it presses as hard as that face bears [Pa]; null: not known */
  limitPa: number | null;
  /** what has to be known for it, and is not */
  missing: readonly string[];
}

export interface LeastWorkingPressure {
  ref: FigureRef;
  /** least pressure at which this element does its work (support lock, sequence valve, pilot-operated check valve) [Pa] */
  leastWorkingPressurePa: number | null;
}

export interface RatedComponent {
  ref: FigureRef;
  kind: string;
  /** rated pressure of this component [Pa]; null: not known */
  ratedPressurePa: number | null;
  /** share of the rating left by temperature or age [1], 0 < derating <= 1 */
  deratingRatio: number;
  /** the lines that this component sees pressure from: supply, clamp, unclamp, tank */
  lineFunctions: readonly ('supply' | 'clamp' | 'unclamp' | 'tank')[];
  /** for a cylinder whose rod side lies on the unclamp line: piston area over annulus area [1]; else null */
  rodSideAreaRatio: number | null;
}

export interface SupplyPump {
  drive: 'air' | 'electric';
  /** air drive: oil pressure over air pressure [1] */
  pistonRatio: number | null;
  /** share of the theoretical stall pressure that is reached [1] */
  stallEfficiencyRatio: number | null;
  /** air drive: regulator set so (nominal) [Pa] */
  airPressurePa: number | null;
  /** air drive: lowest plant air at the regulator's inlet [Pa] */
  airPressureLowPa: number | null;
  /** air drive: highest pressure at the regulator's inlet, were the regulator opened fully or to creep [Pa] */
  airPressureHighPa: number | null;
  /** electric: highest pressure of the pump without relief (compensator or cut-out plus tolerance) [Pa] */
  highestPressurePa: number | null;
  /** pressure at which the pump starts again [Pa] */
  restartPressurePa: number | null;
  restartHalfWidthPa: number | null;
}

export interface PlacedRelief {
  ref: FigureRef;
  /** begins to open [Pa] */
  openingPressurePa: number | null;
  /** passes the pump's whole flow at [Pa] */
  fullFlowPressurePa: number | null;
  /** by how much both may be off, either way [Pa]; left out: not at all */
  openingHalfWidthPa?: number;
  /** once open, shuts again at [Pa]; null or left out: not known */
  reseatPressurePa?: number | null;
  /** false: it sits where it cannot relieve oil that is shut in; left out: it relieves that too */
  relievesTrappedOil?: boolean;
  /** true: it sits beyond whatever may block the clamp line, and holds that back then; left out: where it relieves oil that is shut in */
  relievesBlockedLine?: boolean;
  /** true: only the pump shuts oil in, and it sits after that, so that it relieves what warms up there; left out: it does not */
  relievesBehindPump?: boolean;
  /** true: it may sit where oil that is shut in reaches it, and lets that out; left out: not reckoned with */
  mayLetOutTrappedOil?: boolean;
  /** false: it sits in the clamp line alone, and holds back nothing of what is before the valve; left out: it holds back the source */
  relievesSource?: boolean;
  /** false: nobody has said where it sits, and it holds back nothing at all; left out: it holds back what reaches the clamps */
  relievesClamps?: boolean;
}

export interface ThermalFigures {
  /** false when no part of the circuit can be shut off with oil in it */
  canTrap: boolean;
  /** what nobody has said, and would have to, before it is known that oil can be shut in; left out: it can */
  unsaid?: readonly string[];
  /** warm-up to be reckoned with [K] */
  temperatureRiseK: number | null;
  /** volumetric expansion of the oil less that of the walls [1/K] */
  netExpansionPerK: number | null;
  /** bulk modulus of oil and walls together [Pa] */
  bulkModulusPa: number | null;
  /** the same of the unclamp line; left out: it is not judged [Pa] */
  unclampBulkModulusPa?: number | null;
  /** oil of the unclamp line can be shut in while it is open; left out: not looked at */
  canTrapOpen?: boolean;
  /** what nobody has said, and would have to, before it is known that it cannot; left out: nothing */
  unsaidOpen?: readonly string[];
  /** by how much more leaks through a gap once it has warmed up [1], or null and what is to be found out; left out: no more */
  thinning?: { ratio: number | null; missing: readonly MissingFigure[] };
}

export interface HoldFigures {
  /** fall of pressure with the supply shut off, as measured or stated [Pa/s] */
  decayRatePaPerS: number | null;
  /** switch delay + reaction of the control + spindle stop [s] */
  reactionTimeS: number | null;
  /** a hose before the clamps that nothing holds back if it bursts; null: there is none; left out: not looked at */
  burst?: BurstFigures | null;
  /** one of which nobody has said whether a check valve holds it back; null: there is none; left out: not looked at */
  burstIfBeyond?: BurstFigures | null;
}

/** A hose that bursts while the circuit is clamped. */
export interface BurstFigures {
  ref: FigureRef;
  /** how fast the circuit then loses its pressure: flow out of it over what its oil gives way [Pa/s]; null: not known */
  ratePaPerS: number | null;
  /** somebody has typed the flow, and it must be survived; else the pump's free flow is shown as a caution that decides nothing */
  mustHold: boolean;
}

/** A cylinder's side upon a line that may be blocked while oil presses upon its other side. */
export interface BlockedSide {
  /** null: nobody knows what moves in the circuit */
  ref: FigureRef | null;
  line: 'clamp' | 'unclamp';
  /** pressure in it over the pressure on the other side: area there over area here [1]; null: not known */
  ratio: number | null;
}

/** A cylinder that oil moves both ways: what stands in the unclamp line takes of its clamping force. */
export interface OpposedSide {
  /** null: nobody knows what moves in the circuit */
  ref: FigureRef | null;
  /** area upon the unclamp line over area upon the clamp line [1]; null: not known */
  ratio: number | null;
}

export interface PressureLadderInput {
  operations: readonly ProvedOperation[];
  leastWorking: readonly LeastWorkingPressure[];
  /** of clamps of which somebody has asked; left out: of none */
  pads?: readonly ProvedPad[];
  /** the switch's rising point, at which the control may go on [Pa] */
  setPointPa: number | null;
  /** the switch's falling point, at which the control must stop [Pa] */
  resetPointPa: number | null;
  /** by how much at least it drops out below where it makes [Pa]; left out: as the two points say */
  switchDeadbandPa?: number | null;
  /** half width of each of the two points [Pa] */
  switchAccuracyPa: number | null;
  /** the working setting [Pa] */
  settingPa: number | null;
  /** half width of the setting: regulator drift and hysteresis [Pa] */
  settingHalfWidthPa: number | null;
  /** permissible error of the gauge by which setting and switch were set [Pa] */
  gaugeErrorPa: number | null;
  /** how far from the temperature for which its class is stated that error is taken [K], to be shown; left out: of a record that kept inputs */
  gaugeOffReferenceK?: number;
  /** false: the switch sits before a check valve and senses the supply, whatever the clamps do; null: nobody has said;
   *  left out: it senses the clamps */
  sensesClamps?: boolean | null;
  /** true when the circuit has its own reducing valve below the power unit's pressure */
  hasReducingValve: boolean;
  pump: SupplyPump;
  /** null: the circuit has no relief valve */
  relief: PlacedRelief | null;
  /** every relief valve, the one above included; left out: there is no other */
  reliefs?: readonly PlacedRelief[];
  thermal: ThermalFigures;
  hold: HoldFigures;
  components: readonly RatedComponent[];
  /** true when the unclamp line can be blocked while the clamp line is pressurised (coupler, plug, metering check) */
  unclampLineCanBlock: boolean;
  /** the same of the clamp line while the unclamp line is pressurised; left out: not looked at */
  clampLineCanBlock?: boolean;
  /** every side of a cylinder that a blocked line shuts in; left out: the rod sides of `components`, on the unclamp line */
  blockedSides?: readonly BlockedSide[];
  /** cylinders against which the unclamp line works; left out: not reckoned with */
  opposedSides?: readonly OpposedSide[];
  /** the unclamp line can be blocked while clamps press: what warms up in it then works against them; null: nobody has said; left out: not
   *  reckoned with */
  unclampLineBlocked?: boolean | null;
  /** highest pressure in the line into which they unclamp [Pa]; null: not known */
  returnPressurePa?: number | null;
  /** made from a circuit's facts: judged by every rule of today, such as that an air-driven pump lifts no higher than its stall at the
   *  lowest plant air; left out: by those of a record that kept inputs */
  isFromFacts?: boolean;
  /** false: the rating of the fixture that comes is not known; left out: it is among the components, or there is none */
  isFixtureFitted?: boolean;
  /** least probability with which a check must hold [1], 0 <= p < 1; left out: none is asked */
  leastProbability?: number;
  /** per check code: margin asked for as a share of the capacity [1], 0 <= margin < 1 */
  marginsAsked: Readonly<Record<PressureCheckCode, number>>;
}

/** Checks that the pressure ladder makes by itself. */
export type PressureCheckCode = Extract<
  CheckCode,
  'holds-workpiece' | 'no-nuisance-stop' | 'setting-within-rating' | 'highest-within-rating' | 'workpiece-limit'
>;

export type CheckStatus = 'holds' | 'marginal' | 'fails' | 'unproven' | 'not-applicable';

export type PressureRungCode =
  | 'required'
  | 'reset-point'
  | 'set-point'
  | 'pump-restart'
  | 'setting'
  | 'highest-possible'
  | 'workpiece-limit'
  | 'rating';

export interface PressureRung {
  code: PressureRungCode;
  /** null: not known; the rung is listed all the same, so that a page can say what is missing */
  pressurePa: number | null;
  halfWidthPa: number | null;
  ref: FigureRef | null;
  /** rating: true for the weakest (of equals, all) */
  isWeakest: boolean;
  /** how it came about: a calculation's id, `typed`, `measured` */
  basis: string;
  /** figures that the number was made from, by name, SI (for the page that explains it) */
  parameters: Readonly<Record<string, number>>;
}

export interface MissingFigure {
  /** name of the missing figure, such as `ratedPressurePa`, `requiredPressurePa`, `operations` */
  field: string;
  ref: FigureRef | null;
}

/** One way of looking at demand against capacity. `marginPa` = capacity - demand; negative: broken. */
export interface CheckMargin {
  demandPa: number;
  capacityPa: number;
  marginPa: number;
}

/** A rule of the interlock that a single fault breaks. */
export interface BrokenByFault {
  fault: InterlockFault;
  rule: InterlockRule;
  /** it breaks with the best reactions too: nothing short of a second channel covers it */
  needsSecondChannel: boolean;
}

export interface ProvedCheck {
  code: CheckCode;
  status: CheckStatus;
  /** why: a code such as `below-required`, `above-rating`, `inside-margin`, `not-limiting`, `missing` */
  reason: CheckReason;
  /** highest-within-rating: which of its pairs of demand and capacity is reported; left out by the other checks */
  governing?: 'source' | 'trapped-oil' | 'intensified' | 'relief-opening' | 'return-line';
  /** the load case of the subject that it speaks of; left out by all that speak of none */
  loadCase?: string;
  /** what it is about: the governing operation, the weakest component, the relief valve */
  subject: FigureRef | null;
  /** values alone */
  nominal: CheckMargin | null;
  /** with the tolerances that the check names (setting tolerance, switch accuracy): decides `fails` */
  stated: CheckMargin | null;
  /** with every known error, the gauge's included: decides `marginal` */
  worstCase: CheckMargin | null;
  /** numbers that are no pressures, in the SI unit of their kind; left out by checks of pressures and of statements */
  numbers?: {
    kind: CircuitCheckKind;
    nominal: CircuitMargin | null;
    stated: CircuitMargin | null;
    worstCase: CircuitMargin | null;
  };
  /** every pair of demand and capacity that the check consists of, the worst first; left out where there is one */
  pairs?: readonly { reason: CheckReason; subject: FigureRef | null; status: CheckStatus }[];
  /** the interlock's: which single faults break which rules; left out by the other checks, and where none was tried */
  faults?: readonly BrokenByFault[];
  /** stated demand / stated capacity [1] */
  ratio: number | null;
  /** margin asked for as a share of the capacity [1] */
  marginAsked: number;
  /** probability that the demand stays within the capacity [1]; errors uniform and independent */
  probability: number | null;
  missing: readonly MissingFigure[];
  /** further figures for the sentence, SI, by name */
  parameters: Readonly<Record<string, number>>;
  /** id of the formula's source in the calculation's documentation */
  source: string;
}

export interface SettingWindow {
  /** from: governing required pressure [Pa] */
  lowPa: number | null;
  /** to: least of weakest rating and workpiece limit [Pa] */
  highPa: number | null;
  /** null while an end is unknown; false: no setting can be right */
  exists: boolean | null;
  /** where a setting, its tolerance and its switch would fit; null when they do not fit or are unknown [Pa] */
  settingLowestPa: number | null;
  settingHighestPa: number | null;
  resetLowestPa: number | null;
  resetHighestPa: number | null;
}

export interface PressureLadderResult {
  /** the worst of the checks, `not-applicable` left out: fails > unproven > marginal > holds */
  status: CheckStatus;
  window: SettingWindow;
  rungs: readonly PressureRung[];
  checks: readonly ProvedCheck[];
}
