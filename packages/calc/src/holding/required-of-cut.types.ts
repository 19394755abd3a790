import type { MillingEngagement } from '../cutting/milling-force.js';
import type { CalcNote } from '../errors.js';
import type { MissingFigure } from '../pressure-ladder/pressure-ladder.types.js';
import type { HoldingContact } from './holding-force.js';
import type { LinearProgramSolver } from './linear-program.js';
import type { Vector3 } from './vector.js';

/** A cut as it was described, SI. `null`: not said. Which figures count depends on the method. */
export interface CutFigures {
  method: 'milling' | 'drilling' | 'tapping';
  /** milling, drilling: specific cutting force at 1 mm by 1 mm, and its exponent */
  kc11Pa: number | null;
  mc: number | null;
  /** tapping: specific cutting force [Pa] */
  kcPa: number | null;
  /** of the cutter, the drill or the thread [m] */
  diameterM: number | null;
  teeth: number | null;
  /** milling: per tooth; drilling: per turn [m] */
  feedM: number | null;
  axialDepthM: number | null;
  radialWidthM: number | null;
  engagement: MillingEngagement | null;
  leadAngleRad: number | null;
  pitchM: number | null;
  pointAngleRad: number | null;
  /** factor for wear [1] */
  wear: number | null;
  /** milling: radial over tangential force [1] */
  radialRatio: number | null;
  /** milling, tapping: force along the tool's axis [N] */
  axialForceN: number | null;
  /** milling: directions of feed around the axis tried at each point, where more are wanted than are always tried */
  directions: number | null;
  /** drilling: factor on the thrust; share of it that pulls when breaking through [1] */
  thrustFactor: number | null;
  breakthroughRatio: number | null;
  /** points of the path, or holes [m] */
  pointsM: readonly Vector3[];
  /** from the spindle into the part */
  toolAxis: Vector3 | null;
  partMassKg: number | null;
  centreOfMassM: Vector3 | null;
  gravity: Vector3 | null;
  /** further directions of the weight, of a pallet that tilts or turns while the workpiece is clamped; left out: none */
  otherGravities?: readonly Vector3[];
  /** the pallet as it tilts or turns with the workpiece clamped, its most each; left out or null: not said [rad/s], [rad/s2] */
  indexingSpeedRadPerS?: number | null;
  indexingAccelerationRadPerS2?: number | null;
  /** from an axis about which it does to the centre of mass, at most [m] */
  indexingRadiusM?: number | null;
  /** from the centre of mass to the furthest point of the workpiece [m] */
  workpieceRadiusM?: number | null;
  /** by how much of itself the specific cutting force, and friction, may be off; left out or null: what is usual */
  specificForceSpreadRatio?: number | null;
  frictionSpreadRatio?: number | null;
  safetyFactor: number | null;
  coneFacets: number | null;
}

/** A clamp, support or locator of the fixture as holding takes it; clamps close in the order in which they are listed. */
export interface HoldingElement {
  id: string;
  name: string;
  kind: 'clamp' | 'support' | 'locator';
  /** equal pieces; each has its place */
  quantity: number;
  /** clamp: force at its rated pressure, less its spring; support: load that it carries [N] */
  ratedForceN: number | null;
  ratedPressurePa: number | null;
  /** support: it locks at [Pa] */
  leastWorkingPressurePa: number | null;
  frictionCoefficient: number | null;
  /** clamp: what returns it; null: nobody has said; left out: of a cut that was computed before it was asked */
  acting?: 'single' | 'double' | null;
  /** clamp that a spring returns: what the spring pushes back with where the clamp meets the workpiece [N]; null: not known */
  springForceAtContactN?: number | null;
  /** locator: largest force; null: none [N] */
  forceLimitN: number | null;
  places: readonly { pointM: Vector3; direction: Vector3 }[];
}

export interface RequiredOfCutInput {
  cut: CutFigures;
  elements: readonly HoldingElement[];
  solver: LinearProgramSolver;
}

/** A contact by its element and which of its pieces it is, from 1. */
export interface NamedPiece {
  elementId: string;
  name: string;
  piece: number;
}

export interface RequiredOfCutResult {
  /** `held`: at the required pressure; `not-held`: at none; `missing`: figures lack; `refused`: figures that cannot be */
  status: 'held' | 'not-held' | 'missing' | 'refused';
  /** least pressure that holds every load case [Pa]; null: not held, or not known */
  requiredPressurePa: number | null;
  missing: readonly MissingFigure[];
  /** refused: which figures, and what they need to be */
  refused: { fields: readonly string[]; needs: string } | null;
  /** what the cut does to the part; null: not known */
  forces: { tangentialN: number | null; thrustN: number | null; torqueNm: number | null } | null;
  cases: number;
  /** the case that needs the most, or the one that nothing holds: `1/45/part`, `2/through`, `clamped/1`, `indexing/2` */
  governingCase: string | null;
  governingClamp: NamedPiece | null;
  /** one possible set of contact forces of the governing case at the required pressure */
  contacts: readonly (NamedPiece & Pick<HoldingContact, 'kind' | 'normalN' | 'frictionN' | 'atLimit'>)[];
  /** what each support bears, as evenly shared as balance allows: the most of its pieces at a pressure, and what each further pascal adds;
   *  null: not known [N] */
  supportLoads: readonly {
    elementId: string;
    loadN: number | null;
    atPressurePa: number;
    loadPerPaN: number | null;
  }[];
  /** the locator that bears its largest force first as the pressure goes up: what it bears at the required pressure, as evenly shared as balance
   *  allows, and the pressure at which it bears all that it may; null where that is not known, or where no locator has a limit [N, Pa] */
  locatorLimit: (NamedPiece & { limitN: number; loadN: number | null; highestPressurePa: number | null }) | null;
  /**
   * by how much more the required pressure would be with the most of the specific cutting force, and with the least of friction, each null where no
   * pressure holds then; null: not held
   */
  spread: {
    specificForceRatio: number;
    frictionRatio: number;
    specificForcePa: number | null;
    frictionPa: number | null;
  } | null;
  /** the single change of those tried that helps most: what it takes off the required pressure [Pa] */
  bestChange: (NamedPiece & { kind: string; gainPa: number }) | null;
  notes: readonly CalcNote[];
}
