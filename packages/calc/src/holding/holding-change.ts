import { holdsAt, isAlwaysTighter, solveCase, SURE, type SolvedCase } from './holding-cases.js';
import { toContacts, type Fixture } from './holding-contacts.js';
import type { HoldingChange, HoldingForceInput } from './holding-force.js';
import { toHoldingProgram, type HoldingProgram } from './holding-program.js';
import { add, cross, dot, scaleBy, toTangents, toUnit, ZERO_VECTOR, type Vector3 } from './vector.js';

/** How many of the changes that the duals favour are solved again. */
const TRIED = 3;
/** Share of the governing need from which a case can come to govern after a change. */
const NEAR = 0.7;

/** How far each kind of change goes; zero: not tried. */
interface Steps {
  forceStep: number;
  frictionStep: number;
  shiftM: number;
}

interface Candidate {
  readonly kind: HoldingChange['kind'];
  readonly index: number;
  /** the direction of a shift; zero for the others */
  readonly shift: Vector3;
}

/** What a case says of one contact: by how much the factor falls per newton along a direction, and its force. */
interface Sensitivity {
  readonly index: number;
  readonly isClamp: boolean;
  readonly normalN: number;
  readonly friction: number;
  readonly perNewtonNormal: number;
  readonly perNewtonFriction: number;
  /** fall of the factor per metre of shift, by direction */
  readonly perMetre: Vector3;
}

/** What of a contact is the same in every case. */
interface Face {
  readonly normal: Vector3;
  readonly friction: number;
  readonly arm: Vector3;
  readonly tangents: readonly Vector3[];
}

function listFaces({ locators, clamps, coneFacets }: Fixture, program: HoldingProgram): Face[] {
  const toFace = (point: Vector3, direction: Vector3, friction: number): Face => {
    const normal = toUnit(direction);
    return { normal, friction, arm: program.toArm(point), tangents: toTangents(normal, coneFacets) };
  };
  return [
    ...locators.map(({ pointM, normal, friction }) => toFace(pointM, normal, friction)),
    ...clamps.map(({ pointM, direction, friction }) => toFace(pointM, direction, friction)),
  ];
}

function listSensitivities(
  fixture: Fixture,
  faces: readonly Face[],
  program: HoldingProgram,
  solved: SolvedCase,
): Sensitivity[] {
  const [fx, fy, fz, mx, my, mz] = solved.rowDuals as unknown as [number, number, number, number, number, number];
  const onForce: Vector3 = scaleBy(1 / program.forceN, [fx, fy, fz]);
  const onMoment: Vector3 = scaleBy(1 / (program.forceN * program.lengthM), [mx, my, mz]);
  return toContacts(fixture, program, solved.columns).map(({ kind, index, normalN, forceN }, place) => {
    const { normal, friction, arm, tangents } = faces[place] as Face;
    // A force along a direction at a point moves the factor by this much per newton: force and moment in one vector.
    const perNewton = add(onForce, cross(onMoment, arm));
    const turn = cross(forceN, onMoment);
    let perNewtonFriction = 0;
    for (const tangent of tangents) perNewtonFriction = Math.max(perNewtonFriction, dot(perNewton, tangent));
    return {
      index,
      isClamp: kind === 'clamp',
      normalN,
      friction,
      perNewtonNormal: dot(perNewton, normal),
      perNewtonFriction,
      perMetre: add(turn, scaleBy(-dot(turn, normal), normal)),
    };
  });
}

function toFall(steps: Steps, { kind, shift }: Candidate, contact: Sensitivity): number {
  const { normalN, friction, perNewtonNormal, perNewtonFriction, perMetre } = contact;
  switch (kind) {
    case 'clamp-force':
      return steps.forceStep * normalN * (perNewtonNormal + friction * perNewtonFriction);
    case 'clamp-friction':
    case 'locator-friction':
      return steps.frictionStep * normalN * perNewtonFriction;
    case 'clamp-position':
    case 'locator-position':
      return dot(shift, perMetre);
  }
}

function listCandidates(steps: Steps, contacts: readonly Sensitivity[]): Candidate[] {
  return contacts.flatMap(({ index, isClamp, perMetre }): Candidate[] => {
    const far = Math.hypot(...perMetre);
    const friction = isClamp ? 'clamp-friction' : 'locator-friction';
    const position = isClamp ? 'clamp-position' : 'locator-position';
    return [
      ...(isClamp && steps.forceStep > 0 ? [{ kind: 'clamp-force', index, shift: ZERO_VECTOR } as const] : []),
      ...(steps.frictionStep > 0 ? [{ kind: friction, index, shift: ZERO_VECTOR } as const] : []),
      ...(steps.shiftM > 0 && far > 0
        ? [{ kind: position, index, shift: scaleBy(steps.shiftM / far, perMetre) } as const]
        : []),
    ];
  });
}

function toChanged(
  input: HoldingForceInput,
  { forceStep, frictionStep }: Steps,
  { kind, index, shift }: Candidate,
): HoldingForceInput {
  const { locators, clamps } = input;
  const at = <T>(list: readonly T[], change: (item: T) => T): T[] =>
    list.map((item, place) => (place === index ? change(item) : item));
  switch (kind) {
    case 'clamp-force':
      return { ...input, clamps: at(clamps, (one) => ({ ...one, forceN: one.forceN * (1 + forceStep) })) };
    case 'clamp-friction':
      return { ...input, clamps: at(clamps, (one) => ({ ...one, friction: one.friction + frictionStep })) };
    case 'clamp-position':
      return { ...input, clamps: at(clamps, (one) => ({ ...one, pointM: add(one.pointM, shift) })) };
    case 'locator-friction':
      return { ...input, locators: at(locators, (one) => ({ ...one, friction: one.friction + frictionStep })) };
    case 'locator-position':
      return { ...input, locators: at(locators, (one) => ({ ...one, pointM: add(one.pointM, shift) })) };
  }
}

/** True when no case can need more after the change: wider cones hold all that the narrower ones held; a clamp that alone stands on the locators only adds. */
function isSafe(input: HoldingForceInput, changed: HoldingForceInput, { kind, index }: Candidate): boolean {
  if (kind.endsWith('friction')) return true;
  if (kind !== 'clamp-force') return false;
  const alone = toHoldingProgram({
    ...changed,
    clamps: changed.clamps.map((clamp, place) => ({ ...clamp, forceN: place === index ? clamp.forceN : 0, fixed: false })),
  }); // prettier-ignore
  return input.solver.withProgram(alone.program, (session) => isAlwaysTighter(session, alone));
}

/** The least common factor of a changed fixture; null: there is none. Cases that cannot need more than the most are left out. */
function solveChanged(
  changed: HoldingForceInput,
  needs: readonly number[],
  areUpperBounds: boolean,
  onProgress: (share: number) => void,
): number | null {
  const program = toHoldingProgram(changed);
  const order = needs.map((_, index) => index).sort((a, b) => Number(needs[b]) - Number(needs[a]));
  return changed.solver.withProgram(program.program, (session) => {
    let most = 0;
    for (const [done, index] of order.entries()) {
      if (areUpperBounds && Number(needs[index]) <= most * program.scaleUnit) break;
      onProgress(done / order.length);
      const solved = solveCase(session, program, index);
      if (solved === null) return null;
      most = Math.max(most, solved.scale);
    }
    const bearsAll =
      isAlwaysTighter(session, program) || order.every((index) => holdsAt(session, program, index, most));
    return bearsAll ? most * program.scaleUnit : null;
  });
}

export interface ChangeSearch {
  readonly input: HoldingForceInput;
  readonly steps: Steps;
  readonly program: HoldingProgram;
  readonly cases: readonly SolvedCase[];
  readonly governingCase: number;
  readonly onProgress: (share: number) => void;
}

/**
 * The single change that lowers the common factor the most. The duals of every case tell how the factor moves with each
 * figure (they are exact for small changes, and an optimum can only be better than they say for a case by itself);
 * the three that promise the most are solved again, and what they then need counts.
 */
export function findBestChange({
  input,
  steps,
  program,
  cases,
  governingCase,
  onProgress,
}: ChangeSearch): HoldingChange | null {
  const needs = cases.map(({ scale }) => scale * program.scaleUnit);
  const before = Number(needs[governingCase]);
  const faces = listFaces(input, program);
  // Cases far below the one that governs are taken as they are; what is advised is solved with all of them.
  const isNear = (need: number): boolean => need >= NEAR * before;
  const near = cases
    .map((solved, index) => ({ solved, need: Number(needs[index]) }))
    .filter(({ need }) => isNear(need))
    .map(({ solved, need }) => ({ need, contacts: listSensitivities(input, faces, program, solved) }));
  const rest = Math.max(0, ...needs.filter((need) => !isNear(need)));
  const governing = listSensitivities(input, faces, program, cases[governingCase] as SolvedCase);
  const ranked = listCandidates(steps, governing)
    .map((candidate) => {
      const place = governing.findIndex(
        ({ isClamp, index }) => isClamp === candidate.kind.startsWith('clamp') && index === candidate.index,
      );
      const after = near.map(
        ({ need, contacts }) => need - program.scaleUnit * toFall(steps, candidate, contacts[place] as Sensitivity),
      );
      return { candidate, promised: Math.max(rest, ...after) };
    })
    .filter(({ promised }) => promised < before * (1 - 1e-6))
    .sort((a, b) => a.promised - b.promised)
    .slice(0, TRIED);
  let best: HoldingChange | null = null;
  for (const [rank, { candidate }] of ranked.entries()) {
    const changed = toChanged(input, steps, candidate);
    const scale = solveChanged(changed, needs, isSafe(input, changed, candidate), (share) =>
      onProgress((rank + share) / ranked.length),
    );
    if (scale === null || scale >= (best?.newScale ?? before) * (1 - SURE)) continue;
    best = toChange(changed, candidate, scale, before);
  }
  return best;
}

function toChange(
  changed: HoldingForceInput,
  { kind, index }: Candidate,
  scale: number,
  before: number,
): HoldingChange {
  const contact = kind.startsWith('clamp') ? changed.clamps[index] : changed.locators[index];
  return {
    kind,
    index,
    name: contact?.name,
    newForceN: kind === 'clamp-force' ? Number(changed.clamps[index]?.forceN) : null,
    newFriction: kind.endsWith('friction') ? Number(contact?.friction) : null,
    newPointM: kind.endsWith('position') ? (contact?.pointM as Vector3) : null,
    newScale: scale,
    gain: before - scale,
  };
}
