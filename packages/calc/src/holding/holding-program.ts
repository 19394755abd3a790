import { GRAVITY_M_PER_S2 } from '../constants.js';
import type { LinearProgram } from './linear-program.js';
import type { HoldingForceInput, HoldingLocator } from './holding-force.js';
import { add, cross, scaleBy, toTangents, toUnit, ZERO_VECTOR, type Vector3 } from './vector.js';

/** What a column of the program stands for. */
interface Column {
  readonly force: Vector3;
  readonly moment: Vector3;
  /** extra rows that it counts in by one: a locator's limits, or a clamp's friction */
  readonly rows: readonly number[];
}

/** A row beside the six of balance: Σ of its columns + perScale · scale ≤ upper. */
interface BoundRow {
  readonly perScale: number;
  readonly upper: number;
}

type ProgramInput = HoldingForceInput & {
  /**
   * a locator of which the most is asked that it may bear at a scale that is given. No friction is then reckoned to press along it or take off
   * it, unless `isFrictionFree`: what lies beside it may hold it back or may not.
   */
  readonly mostOn?: { readonly locator: number; readonly isFrictionFree: boolean };
};

export interface HoldingProgram {
  readonly program: LinearProgram;
  /** sizes that make the numbers about one: forces [N], lengths [m], and the scale's own unit */
  readonly forceN: number;
  readonly lengthM: number;
  readonly scaleUnit: number;
  /** least factor that counts, in the program's unit */
  readonly leastScale: number;
  /** columns of each locator and of each clamp's friction: from, to (not included) */
  readonly locatorColumns: readonly (readonly [number, number])[];
  readonly clampColumns: readonly (readonly [number, number])[];
  /** a locator bears only so much, however hard the clamps press */
  readonly hasLimits: boolean;
  /** where a point stands from the middle that moments are taken about [m] */
  toArm(point: Vector3): Vector3;
  /** force of each column at value one [N] */
  readonly columnForces: readonly Vector3[];
  /** right-hand sides of the rows for a load case */
  toRowBounds(caseIndex: number): { lower: Float64Array; upper: Float64Array };
}

/** Sine of the angle below which two directions count as one. */
const PARALLEL = 1e-9;
/** Three forces and three moments. */
const BALANCE_ROWS = 6;

/** What a spring takes off a clamp that follows the scale, as a share of its force at scale one; a clamp without force presses nothing. */
export function toBackShare({ fixed, forceN, backN = 0 }: HoldingForceInput['clamps'][number]): number {
  return fixed || forceN === 0 ? 0 : backN / forceN;
}

function largest(values: readonly number[]): number {
  return values.reduce((most, value) => Math.max(most, value), 0);
}

function toWeight(partMassKg: number, gravity: Vector3): Vector3 {
  return scaleBy(partMassKg * GRAVITY_M_PER_S2, toUnit(gravity));
}

/** Sizes by which a program is made free of units, and the point about which moments count. */
interface Frame {
  /** unit of force, of length, and of the scale */
  readonly forceN: number;
  readonly lengthM: number;
  readonly scaleUnit: number;
  readonly middle: Vector3;
  readonly arm: (point: Vector3) => Vector3;
}

/** A thousandth of a piconewton, or of a picometre: what is less is nothing, and no unit for the rest. */
const LEAST_UNIT = 1e-15;
const asUnit = (value: number): number | null => (value >= LEAST_UNIT ? value : null);

function toFrame({ locators, clamps, loads, safetyFactor, partMassKg, gravity }: ProgramInput): Frame {
  const weightN = Math.hypot(...toWeight(partMassKg, gravity));
  const points = [...locators.map(({ pointM }) => pointM), ...clamps.map(({ pointM }) => pointM)];
  // Moments about the middle of the contacts say the same as about the origin, and keep their digits far from it.
  const middle = scaleBy(1 / points.length, points.reduce(add, ZERO_VECTOR));
  const arm = (point: Vector3): Vector3 => add(point, scaleBy(-1, middle));
  const lengthM =
    asUnit(largest([...points, ...loads.map(({ pointM }) => pointM)].map((point) => Math.hypot(...arm(point))))) ?? 1;
  const needs = loads.map(
    ({ forceN, momentNm = ZERO_VECTOR }) =>
      safetyFactor * Math.max(Math.hypot(...forceN), Math.hypot(...momentNm) / lengthM),
  );
  const fixedForces = clamps.filter(({ fixed }) => fixed).map(({ forceN }) => forceN);
  const forceN = asUnit(largest([...needs, ...fixedForces, weightN])) ?? 1;
  const movable = clamps.filter(({ fixed }) => !fixed);
  const scaleUnit = forceN / (asUnit(largest(movable.map((clamp) => clamp.forceN))) ?? forceN);
  return { forceN, lengthM, scaleUnit, middle, arm };
}

/** A force and its moment about the middle. */
interface Wrench {
  readonly force: Vector3;
  readonly moment: Vector3;
}

/** What some clamps press together, each with a force of its own. */
const addUp = (
  { arm }: Frame,
  clamps: ProgramInput['clamps'],
  toForceN: (clamp: ProgramInput['clamps'][number]) => number,
): Wrench =>
  clamps.reduce<Wrench>(
    (total, clamp) => {
      const force = scaleBy(toForceN(clamp), toUnit(clamp.direction));
      return { force: add(total.force, force), moment: add(total.moment, cross(arm(clamp.pointM), force)) };
    },
    { force: ZERO_VECTOR, moment: ZERO_VECTOR },
  );

interface Columns {
  readonly columns: readonly Column[];
  readonly bounds: readonly BoundRow[];
  readonly locatorColumns: [number, number][];
  readonly clampColumns: [number, number][];
}

/** Ways in which friction at a contact may act: any along its surface, or only those across a direction. */
function toFrictionWays(n: Vector3, coneFacets: number, across: Vector3 | null): Vector3[] {
  if (across === null) return toTangents(n, coneFacets);
  const side = cross(n, across);
  const length = Math.hypot(...side);
  // A contact that faces along the direction has none of its friction in it.
  if (length < PARALLEL) return toTangents(n, coneFacets);
  return [scaleBy(1 / length, side), scaleBy(-1 / length, side)];
}

/** Columns: the scale, then facets of locators, then facets of clamp friction; with the rows that bound them. */
function toColumns({ locators, clamps, coneFacets, mostOn }: ProgramInput, frame: Frame): Columns {
  const { forceN, scaleUnit, arm } = frame;
  const columns: Column[] = [];
  const bounds: BoundRow[] = [];
  const addRow = (row: Partial<BoundRow>): number => bounds.push({ perScale: 0, upper: 0, ...row }) + BALANCE_ROWS - 1;
  const addColumn = (force: Vector3, point: Vector3, rows: readonly number[]): void => {
    columns.push({ force, moment: cross(arm(point), force), rows });
  };
  const faced = mostOn === undefined || mostOn.isFrictionFree ? null : toUnit((locators[mostOn.locator] as HoldingLocator).normal); // prettier-ignore
  const movable = clamps.filter(({ fixed }) => !fixed);
  columns.push({ ...addUp(frame, movable, (clamp) => (clamp.forceN * scaleUnit) / forceN), rows: [] });
  const locatorColumns = locators.map((locator): [number, number] => {
    const { pointM, normal, friction, limitN, limitAtScaleOneN } = locator;
    const from = columns.length;
    const n = toUnit(normal);
    const rows = [
      ...(limitN === undefined ? [] : [addRow({ upper: limitN / forceN })]),
      ...(limitAtScaleOneN === undefined ? [] : [addRow({ perScale: (-limitAtScaleOneN * scaleUnit) / forceN })]),
    ];
    const ways = friction === 0 ? [ZERO_VECTOR] : toFrictionWays(n, coneFacets, faced);
    const edges = ways.map((t) => add(n, scaleBy(friction, t)));
    for (const edge of edges) addColumn(edge, pointM, rows);
    return [from, columns.length];
  });
  const clampColumns = clamps.map((clamp): [number, number] => {
    const { pointM, direction, friction, fixed, forceN: clampN } = clamp;
    const from = columns.length;
    if (friction === 0 || clampN === 0) return [from, from];
    // The weights of a clamp's edges sum to no more than the factor less its spring's share, or than one where its force is fixed.
    const row = addRow(fixed ? { upper: 1 } : { perScale: -1, upper: -toBackShare(clamp) / scaleUnit });
    const size = (friction * clampN * (fixed ? 1 : scaleUnit)) / forceN;
    for (const t of toFrictionWays(toUnit(direction), coneFacets, faced)) addColumn(scaleBy(size, t), pointM, [row]);
    return [from, columns.length];
  });
  return { columns, bounds, locatorColumns, clampColumns };
}

/** The columns as a sparse matrix, column by column. */
function toMatrix({ columns, bounds }: Columns, lengthM: number) {
  const starts = new Int32Array(columns.length + 1);
  const rows: number[] = [];
  const values: number[] = [];
  const put = (row: number, value: number): void => {
    if (value === 0) return;
    rows.push(row);
    values.push(value);
  };
  columns.forEach((column, index) => {
    [...column.force, ...scaleBy(1 / lengthM, column.moment)].forEach((value, row) => put(row, value));
    for (const row of column.rows) put(row, 1);
    if (index === 0) bounds.forEach(({ perScale }, row) => put(BALANCE_ROWS + row, perScale));
    starts[index + 1] = rows.length;
  });
  return { starts, rows: Int32Array.from(rows), values: Float64Array.from(values) };
}

/** What the rows of a load case must come to: balance of forces and moments, and the bounds. */
function makeRowBounds(input: ProgramInput, frame: Frame, bounds: readonly BoundRow[]): HoldingProgram['toRowBounds'] {
  const { loads, safetyFactor, partMassKg } = input;
  const { forceN, lengthM, arm, middle } = frame;
  const fixedSum = addUp(frame, input.clamps, (clamp) =>
    clamp.fixed ? clamp.forceN : -toBackShare(clamp) * clamp.forceN,
  );
  return (caseIndex) => {
    const load = loads[caseIndex] as (typeof loads)[number];
    const cut = scaleBy(safetyFactor, load.forceN);
    const cutMoment = add(cross(arm(load.pointM), cut), scaleBy(safetyFactor, load.momentNm ?? ZERO_VECTOR));
    const weight = toWeight(partMassKg, load.gravity ?? input.gravity);
    const weightMoment = cross(arm(input.centreOfMassM ?? middle), weight);
    const force = add(add(cut, weight), fixedSum.force);
    const moment = add(add(cutMoment, weightMoment), fixedSum.moment);
    const lower = new Float64Array(BALANCE_ROWS + bounds.length).fill(-Infinity);
    const upper = new Float64Array(BALANCE_ROWS + bounds.length);
    force.forEach((value, row) => (lower[row] = upper[row] = -value / forceN));
    moment.forEach((value, row) => (lower[row + 3] = upper[row + 3] = -value / (forceN * lengthM)));
    bounds.forEach((bound, row) => (upper[BALANCE_ROWS + row] = bound.upper));
    return { lower, upper };
  };
}

/**
 * Columns: the scale, then facets of locators, then facets of clamp friction. Rows: three forces, three moments, then limits. It asks for the
 * least scale, or, with `mostOn`, for the most that one locator may bear at a scale that is given, as what is made least: that with its sign changed.
 */
export function toHoldingProgram(input: ProgramInput): HoldingProgram {
  const { locators, clamps, mostOn } = input;
  // Below it a spring holds its clamp back altogether.
  const leastScale = Math.max(input.leastScale ?? 0, ...clamps.map(toBackShare));
  const frame = toFrame(input);
  const { forceN, lengthM, scaleUnit } = frame;
  const made = toColumns(input, frame);
  const { columns, bounds, locatorColumns, clampColumns } = made;
  const toRowBounds = makeRowBounds(input, frame, bounds);
  const first = toRowBounds(0);
  const cost = new Float64Array(columns.length);
  // Each facet of a locator presses one along its normal.
  if (mostOn === undefined) cost[0] = 1;
  else cost.fill(-1, ...(locatorColumns[mostOn.locator] as [number, number]));
  const columnLower = new Float64Array(columns.length);
  columnLower[0] = leastScale / scaleUnit;
  return {
    program: {
      columnCount: columns.length,
      rowCount: BALANCE_ROWS + bounds.length,
      cost,
      columnLower,
      columnUpper: new Float64Array(columns.length).fill(Infinity),
      rowLower: first.lower,
      rowUpper: first.upper,
      ...toMatrix(made, lengthM),
    },
    forceN,
    lengthM,
    scaleUnit,
    leastScale: leastScale / scaleUnit,
    hasLimits: locators.some(({ limitN }) => limitN !== undefined),
    toArm: frame.arm,
    locatorColumns,
    clampColumns,
    columnForces: columns.map(({ force }) => scaleBy(forceN, force)),
    toRowBounds,
  };
}
