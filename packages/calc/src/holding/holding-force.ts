import { requireFinite, requireThat, type CalcNote } from '../errors.js';
import { toHoldingProgram, type HoldingProgram } from './holding-program.js';
import type { LinearProgramAnswer, LinearProgramSession, LinearProgramSolver } from './linear-program.js';
import { add, dot, scaleBy, toUnit, ZERO_VECTOR, type Vector3 } from './vector.js';

export interface HoldingLocator {
  name?: string | undefined;
  /** r: point of contact [m] */
  pointM: Vector3;
  /** n: direction into the part, any length but zero */
  normal: Vector3;
  /** mu: friction [1], 0 <= mu */
  friction: number;
  /** N_max: largest normal force [N], 0 <= N_max; left out: none */
  limitN?: number | undefined;
}
export interface HoldingClamp {
  name?: string | undefined;
  /** r: point of contact [m] */
  pointM: Vector3;
  /** d: direction into the part, any length but zero */
  direction: Vector3;
  /** F: force at scale one [N], 0 <= F */
  forceN: number;
  /** mu: friction [1], 0 <= mu */
  friction: number;
  /** its force does not follow the scale: a spring, a screw */
  fixed: boolean;
}
export interface HoldingLoad {
  name?: string | undefined;
  /** F: force on the part [N] */
  forceN: Vector3;
  /** r: where it acts [m] */
  pointM: Vector3;
  /** M: moment on the part [N.m] */
  momentNm?: Vector3 | undefined;
}
export interface HoldingForceInput {
  /** solves the linear programs; loaded by the caller */
  solver: LinearProgramSolver;
  /** m: mass of the part [kg], 0 <= m */
  partMassKg: number;
  /** r_c: centre of mass, needed with a mass [m] */
  centreOfMassM?: Vector3 | undefined;
  /** direction of the weight */
  gravity: Vector3;
  locators: readonly HoldingLocator[];
  clamps: readonly HoldingClamp[];
  /** each one load case */
  loads: readonly HoldingLoad[];
  /** S: factor on the loads, not on the weight [1], 0 <= S */
  safetyFactor: number;
  /** edges of the friction cones, from 4 [1] */
  coneFacets: number;
}
export interface HoldingContact {
  kind: 'locator' | 'clamp';
  index: number;
  name?: string | undefined;
  /** N: normal force [N] */
  normalN: number;
  /** T: friction force [N] */
  frictionN: number;
  /** N: force on the part [N] */
  forceN: Vector3;
  /** what stands at its limit */
  atLimit: 'none' | 'lifting' | 'sliding' | 'normal-limit';
}
export interface HoldingForceResult {
  /** s: least common factor on the forces of the clamps that are not fixed [1]; null: none holds */
  scale: number | null;
  held: boolean;
  /** index of the case that needs the most alone, from 0 */
  governingCase: number;
  /** least factor of each case alone; null: none */
  caseScales: (number | null)[];
  /** one possible set of contact forces of the governing case; null without a scale */
  contacts: HoldingContact[] | null;
  notes: CalcNote[];
}

/** Digits that the solver's own tolerance leaves sure. */
const SURE = 1e-8;

interface CaseAnswer {
  scale: number | null;
  columns: Float64Array | null;
}

function toCase(answer: LinearProgramAnswer): CaseAnswer {
  if (answer.status === 'optimal') return { scale: Math.max(0, answer.objective), columns: answer.columns };
  requireThat(answer.status === 'infeasible', 'no-result', ['loads'], 'a load case that the solver can decide');
  return { scale: null, columns: null };
}

/** True when clamping harder never loosens: the clamps alone, without any load, stand on the locators. */
function isAlwaysTighter(session: LinearProgramSession, { program }: HoldingProgram): boolean {
  const zero = new Float64Array(program.rowCount);
  const lower = zero.map((_, row) => (row < 6 ? 0 : -Infinity));
  session.setRowBounds(lower, zero);
  session.setColumnBounds(0, 1, 1);
  const answer = session.solve();
  session.setColumnBounds(0, 0, Infinity);
  return answer.status === 'optimal';
}

/** True when a case also holds at a scale above its own least one. */
function holdsAt(session: LinearProgramSession, program: HoldingProgram, caseIndex: number, scale: number): boolean {
  const { lower, upper } = program.toRowBounds(caseIndex);
  session.setRowBounds(lower, upper);
  session.setColumnBounds(0, scale * (1 - SURE), scale * (1 + SURE));
  const answer = session.solve();
  session.setColumnBounds(0, 0, Infinity);
  return answer.status === 'optimal';
}

function toContacts(input: HoldingForceInput, program: HoldingProgram, columns: Float64Array): HoldingContact[] {
  const { columnForces, locatorColumns, clampColumns, forceN: unit, scaleUnit } = program;
  const sumOf = ([from, to]: readonly [number, number]): { force: Vector3; weight: number } => {
    let force = ZERO_VECTOR;
    let weight = 0;
    for (let column = from; column < to; column += 1) {
      force = add(force, scaleBy(columns[column] as number, columnForces[column] as Vector3));
      weight += columns[column] as number;
    }
    return { force, weight };
  };
  const scale = (columns[0] as number) * scaleUnit;
  const small = 1e-6 * unit;
  const toLimit = (normalN: number, used: boolean, limitN?: number): HoldingContact['atLimit'] => {
    if (limitN !== undefined && normalN >= limitN - small) return 'normal-limit';
    if (normalN <= small) return 'lifting';
    return used ? 'sliding' : 'none';
  };
  const onLocators = input.locators.map(({ name, normal, friction, limitN }, index): HoldingContact => {
    const { force } = sumOf(locatorColumns[index] as readonly [number, number]);
    const n = toUnit(normal);
    const normalN = dot(force, n);
    const frictionN = Math.hypot(...add(force, scaleBy(-normalN, n)));
    // Between two corners a polygon carries less than its corners do.
    const carries = friction * normalN * Math.cos(Math.PI / input.coneFacets);
    const isSliding = friction > 0 && frictionN >= carries - small;
    return {
      kind: 'locator',
      index,
      name,
      normalN,
      frictionN,
      forceN: force,
      atLimit: toLimit(normalN, isSliding, limitN),
    };
  });
  const onClamps = input.clamps.map(({ name, direction, friction, forceN, fixed }, index): HoldingContact => {
    const normalN = fixed ? forceN : forceN * scale;
    const { force, weight } = sumOf(clampColumns[index] as readonly [number, number]);
    const isSliding = friction > 0 && weight >= (fixed ? 1 : (columns[0] as number)) * (1 - 1e-6);
    const total = add(force, scaleBy(normalN, toUnit(direction)));
    return {
      kind: 'clamp',
      index,
      name,
      normalN,
      frictionN: Math.hypot(...force),
      forceN: total,
      atLimit: toLimit(normalN, isSliding),
    };
  });
  return [...onLocators, ...onClamps];
}

/**
 * Least factor on the clamp forces that holds a part against every load case, by linear programming.
 *
 * @method Per load case: Σ locators + Σ clamps + S·(force, moment) + weight = 0, six equations; locators push inside a friction cone of m edges up to their limit; clamps give scale·force and a friction force inside the polygon μ·scale·force. Least scale of each case; the common one is the largest of them, checked against every case.
 * @residual scale - 0.75
 * @assumes Rigid part and fixture, Coulomb friction, contact forces arrange themselves in the best way: necessary, not sufficient.
 * @range Keep a safety factor of 2 at least. Four edges ask for about 17 % more than the round cone, eight for 3 %, sixteen for 0.3 %, always on the safe side.
 * @throws CalcInputError inconsistent: a mass without its centre. no-result: the solver cannot decide a case. not-finite: NaN or infinite input.
 * @example slip
 * in  {"partMassKg":0,"gravity":[0,0,-1],"locators":[{"pointM":[0.02,0.02,0],"normal":[0,0,1],"friction":0.2},{"pointM":[0.18,0.02,0],"normal":[0,0,1],"friction":0.2},{"pointM":[0.1,0.1,0],"normal":[0,0,1],"friction":0.2}],"clamps":[{"pointM":[0.1,0.04,0.08],"direction":[0,0,-1],"forceN":10000,"friction":0,"fixed":false}],"loads":[{"forceN":[1500,0,0],"pointM":[0.1,0.04,0]}],"safetyFactor":1,"coneFacets":8}
 * near 1e-8 scale=0.75 governingCase=0
 * @source Balance of forces and moments; force closure with polyhedral cones (Nguyen 1988); closed form of the example: F/μ = 1500/0.2 N.
 */
export function holdingForce(input: HoldingForceInput): HoldingForceResult {
  const { solver, ...figures } = input;
  requireFinite(figures);
  const { partMassKg, centreOfMassM, loads, locators, safetyFactor } = input;
  requireThat(
    partMassKg === 0 || centreOfMassM !== undefined,
    'inconsistent',
    ['centreOfMassM', 'partMassKg'],
    'a centre of mass with the mass',
  );
  requireThat(
    locators.length > 0 && loads.length > 0,
    'out-of-range',
    ['locators', 'loads'],
    'a locator and a load case',
  );
  const program = toHoldingProgram(input);
  const notes: CalcNote[] = [{ code: 'equilibrium-is-necessary-not-sufficient' }];
  if (safetyFactor < 2) notes.push({ code: 'low-safety-factor', parameters: { safetyFactor, usual: 2 } });
  return solver.withProgram(program.program, (session): HoldingForceResult => {
    const cases = loads.map((_, index) => {
      const { lower, upper } = program.toRowBounds(index);
      session.setRowBounds(lower, upper);
      return toCase(session.solve());
    });
    const caseScales = cases.map(({ scale }) => (scale === null ? null : scale * program.scaleUnit));
    const none = { scale: null, held: false, caseScales, contacts: null, notes };
    const impossible = cases.findIndex(({ scale }) => scale === null);
    if (impossible >= 0) {
      notes.push({ code: 'case-cannot-be-held', parameters: { case: impossible } });
      return { ...none, governingCase: impossible };
    }
    const needs = cases.map(({ scale }) => Number(scale));
    const most = needs.reduce((largest, need) => Math.max(largest, need), 0);
    const governingCase = needs.findIndex((need) => need >= most * (1 - SURE));
    // A factor that is too large lifts the part off a locator or breaks a limit: each case must bear the common one.
    const isFree = locators.every(({ limitN }) => limitN === undefined) && isAlwaysTighter(session, program);
    const overloaded = isFree
      ? -1
      : needs.findIndex((need, index) => need < most * (1 - SURE) && !holdsAt(session, program, index, most));
    if (overloaded >= 0) {
      notes.push({ code: 'no-common-factor', parameters: { case: overloaded, needs: governingCase } });
      return { ...none, governingCase };
    }
    const scale = most * program.scaleUnit;
    const { columns } = cases[governingCase] as CaseAnswer;
    return {
      scale,
      held: scale <= 1 + SURE,
      governingCase,
      caseScales,
      contacts: columns && toContacts(input, program, columns),
      notes,
    };
  });
}
