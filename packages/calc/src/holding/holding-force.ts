import { requireFinite, requireThat, type CalcNote } from '../errors.js';
import { holdsAt, isAlwaysTighter, solveCase, SURE, type SolvedCase } from './holding-cases.js';
import { findBestChange } from './holding-change.js';
import { toContacts } from './holding-contacts.js';
import { toHoldingProgram } from './holding-program.js';
import type { LinearProgramSolver } from './linear-program.js';
import type { Vector3 } from './vector.js';

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
  /** N_1: largest normal force at factor one, in proportion to the factor: a support that the same pressure locks [N], 0 <= N_1; left out: none */
  limitAtScaleOneN?: number | undefined;
}
export interface HoldingClamp {
  name?: string | undefined;
  /** r: point of contact [m] */
  pointM: Vector3;
  /** d: direction into the part, any length but zero */
  direction: Vector3;
  /** F: force at scale one [N], 0 <= F */
  forceN: number;
  /** F_b: what a spring takes off its force at every scale [N], 0 <= F_b; left out: none */
  backN?: number | undefined;
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
  /** direction of the weight meanwhile, any length but zero; left out: that of the input */
  gravity?: Vector3 | undefined;
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
  /** q: share by which a clamp's force is raised to see what that gains [1], 0 <= q; 0: not tried */
  forceStep?: number | undefined;
  /** j: what is added to the friction of a contact to see what that gains [1], 0 <= j; 0: not tried */
  frictionStep?: number | undefined;
  /** w: how far a contact may be moved along its face to see what that gains [m], 0 <= w; left out: not tried */
  shiftM?: number | undefined;
  /** s_0: least factor that counts, such as that of the pressure at which supports lock [1], 0 <= s_0; left out: zero */
  leastScale?: number | undefined;
  /** told now and then which share of the work is done */
  onProgress?: ((share: number) => void) | undefined;
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
/** One change of one contact. The figure that changes is there, with its new value. */
export interface HoldingChange {
  kind: 'clamp-force' | 'clamp-friction' | 'clamp-position' | 'locator-friction' | 'locator-position';
  index: number;
  name: string | undefined;
  /** F: the new force [N] */
  newForceN: number | null;
  /** mu: the new friction [1] */
  newFriction: number | null;
  /** r: the new point [m] */
  newPointM: Vector3 | null;
  /** least common factor with the change, solved again for every case [1] */
  newScale: number;
  /** what it takes off the factor [1] */
  gain: number;
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
  /** the single change of those tried that lowers the factor the most; null: none does, or there is no factor */
  bestChange: HoldingChange | null;
  notes: CalcNote[];
}

/** Contacts times edges times load cases: beyond it an answer takes minutes. */
const MOST_WORK = 4_000_000;

/** Pads with teeth aside, no dry or wet metal holds by more (tables of friction of clamping jaws, common practice). */
const MOST_FRICTION = 0.3;

/** Figures from which a program can be made, of a size that can be solved. */
function requireComputable(input: HoldingForceInput): void {
  const { solver: _solver, onProgress: _onProgress, ...figures } = input;
  requireFinite(figures);
  const { partMassKg, centreOfMassM, loads, locators, clamps, coneFacets } = input;
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
  const work = (locators.length + clamps.length) * coneFacets * loads.length;
  requireThat(
    work <= MOST_WORK,
    'too-many',
    ['loads', 'coneFacets', 'locators', 'clamps'],
    `contacts times edges times load cases of at most ${MOST_WORK}`,
  );
}

/**
 * Least factor on the clamp forces that holds a part against every load case, by linear programming.
 *
 * @method Per load case: Σ locators + Σ clamps + S·(force, moment) + weight = 0, six equations; locators push inside a friction cone of m edges up to their limits, a support's in proportion to the scale; clamps give scale·force, less what a spring takes off, and a friction force inside the polygon μ times that. Least scale of each case; the common one is the largest of them, checked against every case. Best change: the duals of every case rank the changes tried; the three best are solved again.
 * @residual scale - 0.75
 * @assumes Rigid part and fixture, Coulomb friction, contact forces arrange themselves in the best way: necessary, not sufficient.
 * @range Keep a safety factor of 2 at least. Friction above 0.3 a note: not without a test. Four edges ask for about 17 % more than the round cone, eight for 3 %, sixteen for 0.3 %, always on the safe side.
 * @throws CalcInputError inconsistent: a mass without its centre. too-many: contacts times edges times cases above 4000000. no-result: the solver cannot decide a case. not-finite: NaN or infinite input.
 * @example slip
 * in  {"partMassKg":0,"gravity":[0,0,-1],"locators":[{"pointM":[0.02,0.02,0],"normal":[0,0,1],"friction":0.2},{"pointM":[0.18,0.02,0],"normal":[0,0,1],"friction":0.2},{"pointM":[0.1,0.1,0],"normal":[0,0,1],"friction":0.2}],"clamps":[{"pointM":[0.1,0.04,0.08],"direction":[0,0,-1],"forceN":10000,"friction":0,"fixed":false}],"loads":[{"forceN":[1500,0,0],"pointM":[0.1,0.04,0]}],"safetyFactor":1,"coneFacets":8,"forceStep":0,"frictionStep":0}
 * near 1e-8 scale=0.75 governingCase=0
 * @source Balance of forces and moments; force closure with polyhedral cones (Nguyen 1988); closed form of the example: F/μ = 1500/0.2 N.
 */
export function holdingForce(input: HoldingForceInput): HoldingForceResult {
  requireComputable(input);
  const { solver, onProgress, loads, locators, clamps, safetyFactor } = input;
  const program = toHoldingProgram(input);
  const notes: CalcNote[] = [{ code: 'equilibrium-is-necessary-not-sufficient' }];
  const friction = Math.max(...[...locators, ...clamps].map((contact) => contact.friction));
  if (friction > MOST_FRICTION)
    notes.push({ code: 'friction-needs-a-test', parameters: { friction, limit: MOST_FRICTION } });
  if (safetyFactor < 2) notes.push({ code: 'low-safety-factor', parameters: { safetyFactor, usual: 2 } });
  const { forceStep = 0, frictionStep = 0, shiftM = 0 } = input;
  const isAsked = forceStep + frictionStep + shiftM > 0;
  const shareOfCases = isAsked ? 0.6 : 1;
  const { answers, overloaded } = solver.withProgram(program.program, (session) => {
    const answers = loads.map((_, index) => {
      onProgress?.((shareOfCases * index) / loads.length);
      return solveCase(session, program, index);
    });
    if (answers.includes(null)) return { answers, overloaded: -1 };
    const needs = answers.map((answer) => Number(answer?.scale));
    const most = Math.max(...needs);
    // A factor that is too large lifts the part off a locator or breaks a limit: each case must bear the common one.
    const overloaded = isAlwaysTighter(session, program)
      ? -1
      : needs.findIndex((need, index) => need < most * (1 - SURE) && !holdsAt(session, program, index, most));
    return { answers, overloaded };
  });
  const caseScales = answers.map((answer) => (answer === null ? null : answer.scale * program.scaleUnit));
  const none = { scale: null, held: false, caseScales, contacts: null, bestChange: null, notes };
  const impossible = answers.indexOf(null);
  if (impossible >= 0) {
    notes.push({ code: 'case-cannot-be-held', parameters: { case: impossible } });
    return { ...none, governingCase: impossible };
  }
  const cases = answers as SolvedCase[];
  const most = Math.max(...cases.map(({ scale }) => scale));
  const governingCase = cases.findIndex(({ scale }) => scale >= most * (1 - SURE));
  if (overloaded >= 0) {
    notes.push({ code: 'no-common-factor', parameters: { case: overloaded, needs: governingCase } });
    return { ...none, governingCase };
  }
  const scale = most * program.scaleUnit;
  const bestChange =
    isAsked && most > 0
      ? findBestChange({
          input,
          steps: { forceStep, frictionStep, shiftM },
          program,
          cases,
          governingCase,
          onProgress: (share) => onProgress?.(0.6 + 0.4 * share),
        })
      : null;
  if (isAsked && most > 0 && bestChange === null) notes.push({ code: 'no-single-change-helps' });
  onProgress?.(1);
  return {
    scale,
    held: scale <= 1 + SURE,
    governingCase,
    caseScales,
    contacts: toContacts(input, program, (cases[governingCase] as SolvedCase).columns),
    bestChange,
    notes,
  };
}
