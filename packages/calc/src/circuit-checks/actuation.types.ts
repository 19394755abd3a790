import type { FigureRef, MissingFigure } from '../pressure-ladder/pressure-ladder.types.js';

/** Equal cylinders that act alike: the clamps of one element of a fixture, its supports. `null`: not known. */
export interface ActuationGroup {
  ref: FigureRef;
  role: 'clamp' | 'support';
  /** equal cylinders in the group, at least one */
  count: number;
  /** oil on the rod side clamps, as in a swing clamp; null: nobody has said; left out: it pushes */
  pulls?: boolean | null;
  /** it lies behind the circuit's sequence valves; left out: it does not */
  isSequenced?: boolean;
  /** pushed back by oil or by a spring */
  acting: 'single' | 'double' | null;
  /** bore [m], 0 < bore */
  boreM: number | null;
  /** rod diameter [m], 0 <= rod < bore; of a single-acting cylinder it counts for nothing */
  rodM: number | null;
  /** stroke until contact [m], 0 <= stroke */
  strokeM: number | null;
  /** dry friction of piston and guide [N], 0 <= friction */
  frictionN: number | null;
  /** friction for each speed [N.s/m], 0 < friction */
  viscousFrictionNsPerM: number | null;
  /** stiffness of clamp and workpiece after contact [N/m], 0 < stiffness */
  contactStiffnessNPerM: number | null;
  /** least force of the spring over the stroke [N]; a record that kept inputs has taken friction off; of double-acting ones null */
  springForceN: number | null;
  /** what the spring pushes back with at contact, its most; null: not known; left out: of a record that kept inputs, as over the stroke [N] */
  springForceAtContactN?: number | null;
}

/** One tube or hose of a line. */
export interface LinePiece {
  ref: FigureRef;
  lengthM: number | null;
  innerDiameterM: number | null;
  isHose: boolean;
  /** of a hose: pressure for each share of volume that it widens by [Pa] */
  expansionModulusPa: number | null;
}

/** A fitting, coupling or valve that oil passes on its way. `null`: nobody has said. */
export interface LineFitting {
  ref: FigureRef;
  /** K of a loss K·ρ·v²/2 [1] */
  lossCoefficient: number | null;
  /** line that loses as much [m] */
  equivalentLengthM: number | null;
  /** its own bore [m]; null: the narrowest of its line counts */
  innerDiameterM: number | null;
  /** bores of line that one of its kind usually loses [1], where neither of the two above is known */
  usualBores: number;
}
/** A valve that passes no more than a flow [m3/s]: towards the cylinders, and away from them. */
export interface FlowControl {
  ref: FigureRef;
  line: LineName;
  toCylindersM3PerS: number | null;
  fromCylindersM3PerS: number | null;
}
/** supply: pump to valve; clamp and unclamp: valve to cylinders; tank: below the valve */
export type LineName = 'supply' | 'clamp' | 'unclamp' | 'tank';

/** Another circuit of the station, which takes the pump's flow before this one where it moves more easily. */
export interface MovingFirst {
  /** its strokes and its compression [m3]; null: not known, and what is to be found out */
  volumeM3: number | null;
  /** the pressure at which all of it moves [Pa]; null: not known */
  movesAtPa: number | null;
  missing: readonly MissingFigure[];
}

/** All that the movement of a circuit's cylinders is computed from. `null`: not known. */
export interface ActuationInput {
  groups: readonly ActuationGroup[];
  pump: {
    /** flow without back pressure [m3/s] */
    freeFlowM3PerS: number | null;
    /** the same at the lowest plant air; left out: as that [m3/s] */
    freeFlowLowM3PerS?: number | null;
    /** stall at the air set, or the highest pressure of an electric pump [Pa] */
    stallPressurePa: number | null;
    /** the same at the lowest plant air [Pa] */
    stallPressureLowPa: number | null;
    /** the lowest that it is set to, which it does not pass; null: not known; left out: no bound [Pa] */
    settingLowPa?: number | null;
    /** stall of the line on which its flow falls, for the fastest that anything goes; null: not known; left out: as the stall [Pa] */
    steepestPa?: number | null;
  };
  /** null: the circuit has no directional valve on record */
  valve: { ref: FigureRef; ratedFlowM3PerS: number | null; lossAtRatedFlowPa: number | null } | null;
  lines: Readonly<Record<LineName, readonly LinePiece[]>>;
  /** what stands in the lines beside them; left out: nothing */
  fittings?: Readonly<Record<LineName, readonly LineFitting[]>>;
  flowControls?: readonly FlowControl[];
  /** circuits that move by the same code, whose oil may go first; left out: there is none */
  movingFirst?: readonly MovingFirst[];
  /** no fixture is on record, so that more may move; left out: all is there */
  isFixtureUnknown?: boolean;
  /** what oil passes through, of which nobody has said in which line it stands; left out: nothing */
  unplaced?: readonly FigureRef[];
  /** they take and give oil on its way, by how much is not computed: times with them are read, not computed; left out: there is none */
  accumulators?: readonly FigureRef[];
  /** what is sequenced moves only when each of them has opened; left out: there is none */
  sequenceValves?: readonly {
    ref: FigureRef;
    openingPressurePa: number | null;
    /** those in which it stands; in none that anybody has said: in each; left out: in the clamp line */
    lines?: readonly LineName[];
  }[];
  oil: {
    viscosityAt40M2PerS: number | null;
    viscosityAt100M2PerS: number | null;
    densityKgPerM3: number | null;
    bulkModulusPa: number | null;
    /** air over oil at atmosphere [1] */
    airFraction: number | null;
    coldTemperatureK: number | null;
    workingTemperatureK: number | null;
  };
  /** highest pressure in the tank line while unclamping [Pa] */
  returnPressurePa: number | null;
  /** by what shut-in oil has warmed up at the least in each line when it is let out [Pa], not below zero; left out: by nothing */
  warmedPa?: Readonly<Record<'clamp' | 'unclamp', number>>;
  switchRisingPa: number | null;
  /** by how much it may make later [Pa]; null: not known; left out: by nothing */
  switchAccuracyPa?: number | null;
  switchAt: 'manifold' | 'pump' | 'clamp-line' | null;
  /** made from a circuit's facts: pump, manifold, line and cylinders have pressures of their own; left out: as records kept it, with
   *  one pressure from the manifold to the cylinders */
  isFromFacts?: boolean;
  /** how fast it opens is asked as well; left out: it is not */
  isReturnFlowAsked?: boolean;
  /** a time to open that was read with warmer oil is to be carried to the coldest; left out: there is none */
  isUnclampWarmAsked?: boolean;
}

/** Pressures on the way from pump to cylinders at one moment [Pa]. */
export interface PressuresOnTheWay {
  pumpPa: number;
  manifoldPa: number;
  /** behind the directional valve, where the clamp line begins */
  linePa: number;
  cylinderPa: number;
}

/** When what arrives [s]; `never`: not within ten minutes. */
export interface Arriving {
  timeToContactS: number | 'never';
  /** of each group [s]; null: not within ten minutes */
  contactsS: readonly (number | null)[];
  /** pressure at the cylinders when the first clamp arrives [Pa]; null: none arrives, or there is no clamp */
  pressureAtFirstContactPa: number | null;
  /** most oil that one cylinder of each group takes on its way, of a record that kept its inputs [m3/s] */
  peakFlowsM3PerS?: readonly number[];
}

/** A movement: when the switch makes beside [s]; `never`: not within ten minutes. */
export interface ClampMovement extends Arriving {
  timeToSwitchS: number | 'never';
  /** the same where it senses soonest: a switch in the clamp line may sit at either end of it */
  soonestSwitchS: number | 'never';
  /** as the switch makes; null: it does not */
  atSwitch: PressuresOnTheWay | null;
}

export interface ActuationResult {
  /** with oil at working temperature and the air set; null: something is missing */
  warm: ClampMovement | null;
  /** with the coldest oil at the lowest plant air */
  cold: ClampMovement | null;
  /** the most that the switch senses while something still moves, of any oil and air; null: it never arrives, or something is missing; left
   *  out: nobody asks for it [Pa] */
  mostMovingPa?: number | null;
  /** with the least that is lost, as fast as anything goes; null: something is missing; left out: nobody asks for it */
  swiftest?: Arriving | null;
  /** all open again, with the coldest oil at the lowest plant air [s] */
  unclampColdS: number | 'never' | null;
  /** the same with oil at working temperature and the air set; left out: not asked */
  unclampWarmS?: number | 'never' | null;
  /** most oil that goes into the clamp side of one cylinder of each group as it clamps, warm or cold; null: not asked, or something is missing [m3/s] */
  flowsM3PerS: readonly number[] | null;
  /** most oil that leaves the clamp side of one cylinder of each group as it opens, warm or cold; null: not asked, or something is missing [m3/s] */
  returnFlowsM3PerS: readonly number[] | null;
  /** what is missing for clamping, and for unclamping */
  clampMissing: readonly MissingFigure[];
  unclampMissing: readonly MissingFigure[];
  /** fittings of which nobody has said what they lose: they count with what is usual */
  usualFittings: number;
}
