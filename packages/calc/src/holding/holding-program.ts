import { GRAVITY_M_PER_S2 } from '../constants.js';
import type { LinearProgram } from './linear-program.js';
import type { HoldingForceInput } from './holding-force.js';
import { add, cross, scaleBy, toTangents, toUnit, ZERO_VECTOR, type Vector3 } from './vector.js';

/** What a column of the program stands for. */
interface Column {
  readonly force: Vector3;
  readonly moment: Vector3;
  /** extra row (a locator's limit, or a clamp's friction) and its coefficient */
  readonly row: number | null;
}

export interface HoldingProgram {
  readonly program: LinearProgram;
  /** sizes that make the numbers about one: forces [N], lengths [m], and the scale's own unit */
  readonly forceN: number;
  readonly lengthM: number;
  readonly scaleUnit: number;
  /** columns of each locator and of each clamp's friction: from, to (not included) */
  readonly locatorColumns: readonly (readonly [number, number])[];
  readonly clampColumns: readonly (readonly [number, number])[];
  /** a locator bears only so much */
  readonly hasLimits: boolean;
  /** where a point stands from the middle that moments are taken about [m] */
  toArm(point: Vector3): Vector3;
  /** force of each column at value one [N] */
  readonly columnForces: readonly Vector3[];
  /** right-hand sides of the rows for a load case */
  toRowBounds(caseIndex: number): { lower: Float64Array; upper: Float64Array };
}

function largest(values: readonly number[]): number {
  return values.reduce((most, value) => Math.max(most, value), 0);
}

function toWeight({ partMassKg, gravity }: HoldingForceInput): Vector3 {
  return scaleBy(partMassKg * GRAVITY_M_PER_S2, toUnit(gravity));
}

/** Columns: the scale, then facets of locators, then facets of clamp friction. Rows: three forces, three moments, then limits. */
export function toHoldingProgram(input: HoldingForceInput): HoldingProgram {
  const { locators, clamps, loads, safetyFactor, coneFacets } = input;
  const weight = toWeight(input);
  const points = [...locators.map(({ pointM }) => pointM), ...clamps.map(({ pointM }) => pointM)];
  // Moments about the middle of the contacts say the same as about the origin, and keep their digits far from it.
  const middle = scaleBy(1 / points.length, points.reduce(add, ZERO_VECTOR));
  const arm = (point: Vector3): Vector3 => add(point, scaleBy(-1, middle));
  const lengthM =
    largest([...points, ...loads.map(({ pointM }) => pointM)].map((point) => Math.hypot(...arm(point)))) || 1;
  const movable = clamps.filter(({ fixed }) => !fixed);
  const needs = loads.map(({ forceN, momentNm = ZERO_VECTOR }) =>
    safetyFactor * Math.max(Math.hypot(...forceN), Math.hypot(...momentNm) / lengthM),
  ); // prettier-ignore
  const fixedForces = clamps.filter(({ fixed }) => fixed).map(({ forceN }) => forceN);
  const forceN = largest([...needs, ...fixedForces, Math.hypot(...weight)]) || 1;
  const scaleUnit = forceN / (largest(movable.map((clamp) => clamp.forceN)) || forceN);

  const columns: Column[] = [];
  let rowCount = 6;
  const addColumn = (force: Vector3, point: Vector3, row: number | null): void => {
    columns.push({ force, moment: cross(arm(point), force), row });
  };
  const sum = movable.reduce(
    (total, clamp) => {
      const force = scaleBy((clamp.forceN * scaleUnit) / forceN, toUnit(clamp.direction));
      return { force: add(total.force, force), moment: add(total.moment, cross(arm(clamp.pointM), force)) };
    },
    { force: ZERO_VECTOR, moment: ZERO_VECTOR },
  );
  columns.push({ ...sum, row: null });

  const limits: { row: number; limit: number }[] = [];
  const locatorColumns = locators.map(({ pointM, normal, friction, limitN }): [number, number] => {
    const from = columns.length;
    const n = toUnit(normal);
    const row = limitN === undefined ? null : rowCount;
    if (row !== null) limits.push({ row, limit: Number(limitN) / forceN });
    rowCount += row === null ? 0 : 1;
    const edges = friction === 0 ? [n] : toTangents(n, coneFacets).map((t) => add(n, scaleBy(friction, t)));
    for (const edge of edges) addColumn(edge, pointM, row);
    return [from, columns.length];
  });
  /** rows Σ u − scale ≤ 0 of movable clamps, Σ u ≤ 1 of fixed ones */
  const frictionRows: { row: number; fixed: boolean }[] = [];
  const clampColumns = clamps.map(({ pointM, direction, friction, fixed, forceN: clampN }): [number, number] => {
    const from = columns.length;
    if (friction === 0 || clampN === 0) return [from, from];
    frictionRows.push({ row: rowCount, fixed });
    const size = (friction * clampN * (fixed ? 1 : scaleUnit)) / forceN;
    for (const t of toTangents(toUnit(direction), coneFacets)) addColumn(scaleBy(size, t), pointM, rowCount);
    rowCount += 1;
    return [from, columns.length];
  });

  const starts = new Int32Array(columns.length + 1);
  const rows: number[] = [];
  const values: number[] = [];
  columns.forEach((column, index) => {
    [...column.force, ...scaleBy(1 / lengthM, column.moment)].forEach((value, row) => {
      if (value !== 0) {
        rows.push(row);
        values.push(value);
      }
    });
    if (column.row !== null) {
      rows.push(column.row);
      values.push(1);
    }
    if (index === 0) {
      for (const { row, fixed } of frictionRows) {
        if (fixed) continue;
        rows.push(row);
        values.push(-1);
      }
    }
    starts[index + 1] = rows.length;
  });

  const fixedSum = clamps.filter(({ fixed }) => fixed).reduce(
    (total, clamp) => {
      const force = scaleBy(clamp.forceN, toUnit(clamp.direction));
      return { force: add(total.force, force), moment: add(total.moment, cross(arm(clamp.pointM), force)) };
    },
    { force: ZERO_VECTOR, moment: ZERO_VECTOR },
  ); // prettier-ignore
  const toRowBounds = (caseIndex: number): { lower: Float64Array; upper: Float64Array } => {
    const load = loads[caseIndex] as (typeof loads)[number];
    const cut = scaleBy(safetyFactor, load.forceN);
    const cutMoment = add(cross(arm(load.pointM), cut), scaleBy(safetyFactor, load.momentNm ?? ZERO_VECTOR));
    const weightMoment = cross(arm(input.centreOfMassM ?? middle), weight);
    const force = add(add(cut, weight), fixedSum.force);
    const moment = add(add(cutMoment, weightMoment), fixedSum.moment);
    const lower = new Float64Array(rowCount).fill(-Infinity);
    const upper = new Float64Array(rowCount);
    force.forEach((value, row) => (lower[row] = upper[row] = -value / forceN));
    moment.forEach((value, row) => (lower[row + 3] = upper[row + 3] = -value / (forceN * lengthM)));
    for (const { row, limit } of limits) upper[row] = limit;
    for (const { row, fixed } of frictionRows) upper[row] = fixed ? 1 : 0;
    return { lower, upper };
  };
  const first = toRowBounds(0);
  const cost = new Float64Array(columns.length);
  cost[0] = 1;
  return {
    program: {
      columnCount: columns.length,
      rowCount,
      cost,
      columnLower: new Float64Array(columns.length),
      columnUpper: new Float64Array(columns.length).fill(Infinity),
      rowLower: first.lower,
      rowUpper: first.upper,
      starts,
      rows: Int32Array.from(rows),
      values: Float64Array.from(values),
    },
    forceN,
    lengthM,
    scaleUnit,
    hasLimits: limits.length > 0,
    toArm: arm,
    locatorColumns,
    clampColumns,
    columnForces: columns.map(({ force }) => scaleBy(forceN, force)),
    toRowBounds,
  };
}
