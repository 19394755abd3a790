import { drillingLoads, millingLoads, tappingLoads } from '../cutting/cut-loads.js';
import { drillingForce } from '../cutting/drilling-force.js';
import { millingForce } from '../cutting/milling-force.js';
import { tappingTorque } from '../cutting/tapping-torque.js';
import { CalcInputError, requireThat } from '../errors.js';
import type { LadderMissing } from '../pressure-ladder/pressure-ladder.types.js';
import type { HoldingForceInput, HoldingLoad } from './holding-force.js';
import { operationRequiredPressure } from './operation-required-pressure.js';
import type {
  CutFigures,
  HoldingElement,
  NamedPiece,
  RequiredOfCutInput,
  RequiredOfCutResult,
} from './required-of-cut.types.js';

type Forces = NonNullable<RequiredOfCutResult['forces']>;
type Known = { [K in keyof CutFigures]: NonNullable<CutFigures[K]> };

/** What each method asks for, besides points, axis, part and safety. */
const ASKED: Readonly<Record<CutFigures['method'], readonly (keyof CutFigures)[]>> = {
  milling: [
    'kc11Pa',
    'mc',
    'diameterM',
    'teeth',
    'feedM',
    'axialDepthM',
    'radialWidthM',
    'engagement',
    'leadAngleRad',
    'wear',
    'radialRatio',
    'axialForceN',
    'directions',
  ],
  drilling: ['kc11Pa', 'mc', 'diameterM', 'feedM', 'pointAngleRad', 'thrustFactor', 'breakthroughRatio'],
  tapping: ['kcPa', 'pitchM', 'diameterM', 'wear', 'axialForceN'],
};
const ALWAYS = ['toolAxis', 'partMassKg', 'centreOfMassM', 'gravity', 'safetyFactor', 'coneFacets'] as const;
/** More would take longer than anybody waits for an answer. */
const MOST_CONTACTS = 60;
const MOST_CASES = 400;
/** What is tried to find the change that helps most: a fifth more force, a little more friction, a contact moved 5 mm. */
const STEPS = { forceStep: 0.2, frictionStep: 0.02, shiftM: 0.005 };

function listMissing(cut: CutFigures, elements: readonly HoldingElement[]): LadderMissing[] {
  const figures: (keyof CutFigures)[] = [...ASKED[cut.method], ...ALWAYS];
  const missing: LadderMissing[] = figures.filter((name) => cut[name] === null).map((field) => ({ field, ref: null }));
  if (cut.pointsM.length === 0) missing.push({ field: 'pointsM', ref: null });
  for (const kind of ['clamp', 'locator'] as const) {
    if (!elements.some((element) => element.kind === kind)) missing.push({ field: `${kind}s`, ref: null });
  }
  for (const { id, name, kind, quantity, ratedForceN, ratedPressurePa, frictionCoefficient, places } of elements) {
    const ask = (field: string, isThere: boolean): void => {
      if (!isThere) missing.push({ field, ref: { entity: 'fixture', id, name } });
    };
    ask('places', places.length === quantity);
    ask('frictionCoefficient', frictionCoefficient !== null);
    ask('ratedForceN', kind === 'locator' || ratedForceN !== null);
    ask('ratedPressurePa', kind !== 'clamp' || ratedPressurePa !== null);
  }
  return missing;
}

/** What the cut does to the part, and its load cases. */
function toLoads(cut: Known): { forces: Forces; loads: HoldingLoad[] } {
  const { pointsM, toolAxis, kc11Pa, mc, diameterM, feedM, wear } = cut;
  switch (cut.method) {
    case 'milling': {
      const { teeth, axialDepthM, radialWidthM, engagement, leadAngleRad } = cut;
      const { peakTangentialForceN } = millingForce({
        kc11Pa,
        mc,
        cutterDiameterM: diameterM,
        teeth,
        feedPerToothM: feedM,
        axialDepthM,
        radialWidthM,
        engagement,
        leadAngleRad,
        wear,
        // The speed bears on power and removal alone.
        speedHz: 0,
      });
      const { radialRatio, axialForceN, directions } = cut;
      return {
        forces: { tangentialN: peakTangentialForceN, thrustN: null, torqueNm: null },
        loads: millingLoads({
          pathM: pointsM,
          toolAxis,
          tangentialForceN: peakTangentialForceN,
          radialRatio,
          axialForceN,
          directions,
        }),
      };
    }
    case 'drilling': {
      const { pointAngleRad, thrustFactor, breakthroughRatio } = cut;
      // Speed and efficiency bear on the power alone.
      const { thrustN, torqueNm } = drillingForce({
        kc11Pa,
        mc,
        diameterM,
        feedM,
        pointAngleRad,
        thrustFactor,
        speedHz: 0,
        efficiency: 1,
      });
      return {
        forces: { tangentialN: null, thrustN, torqueNm },
        loads: drillingLoads({ holesM: pointsM, toolAxis, thrustN, torqueNm, breakthroughRatio }),
      };
    }
    case 'tapping': {
      const { kcPa, pitchM, axialForceN } = cut;
      const { torqueNm } = tappingTorque({ kcPa, pitchM, diameterM, wear });
      return {
        forces: { tangentialN: null, thrustN: null, torqueNm },
        loads: tappingLoads({ holesM: pointsM, toolAxis, torqueNm, axialForceN }),
      };
    }
  }
}

const NOTHING: RequiredOfCutResult = {
  status: 'missing',
  requiredPressurePa: null,
  missing: [],
  refused: null,
  forces: null,
  cases: 0,
  governingCase: null,
  governingClamp: null,
  contacts: [],
  bestChange: null,
  notes: [],
};

/** Each piece of an element, where it stands. */
const toPieces = (elements: readonly HoldingElement[]) =>
  elements.flatMap((element) =>
    element.places.map((place, index): NamedPiece & { element: HoldingElement; place: typeof place } => ({
      elementId: element.id,
      name: element.name,
      piece: index + 1,
      element,
      place,
    })),
  );

function solve(cut: Known, { elements, solver }: RequiredOfCutInput): RequiredOfCutResult {
  const { forces, loads } = toLoads(cut);
  const clamps = toPieces(elements.filter(({ kind }) => kind === 'clamp'));
  const passive = toPieces(elements.filter(({ kind }) => kind !== 'clamp'));
  const { partMassKg, centreOfMassM, gravity, safetyFactor, coneFacets } = cut;
  const mostContacts = `at most ${MOST_CONTACTS} contacts`;
  requireThat(clamps.length + passive.length <= MOST_CONTACTS, 'out-of-range', ['places'], mostContacts);
  requireThat(
    loads.length <= MOST_CASES,
    'out-of-range',
    ['pointsM', 'directions'],
    `at most ${MOST_CASES} load cases`,
  );
  const friction = ({ frictionCoefficient }: HoldingElement): number => Number(frictionCoefficient);
  const holding: HoldingForceInput = {
    solver,
    partMassKg,
    centreOfMassM,
    gravity,
    safetyFactor,
    coneFacets,
    loads,
    locators: passive.map(({ element, place }) => {
      // A support carries its rated load at its rated pressure; check 12 asks what it carries at the setting.
      const limitN = element.kind === 'support' ? element.ratedForceN : element.forceLimitN;
      return {
        name: element.name,
        pointM: place.pointM,
        normal: place.direction,
        friction: friction(element),
        ...(limitN === null ? {} : { limitN }),
      };
    }),
    clamps: clamps.map(({ element, place }) => ({
      name: element.name,
      pointM: place.pointM,
      direction: place.direction,
      forceN: Number(element.ratedForceN),
      friction: friction(element),
      fixed: false,
    })),
    ...STEPS,
  };
  const ratings = clamps.map(({ element }) => ({
    ratedForceN: Number(element.ratedForceN),
    ratedPressurePa: Number(element.ratedPressurePa),
  }));
  const found = operationRequiredPressure({ holding, ratings });
  const { requiredPressurePa, governingClamp } = found;
  const { governingCase, contacts, bestChange, notes, scale } = found.holding;
  const nameOf = (kind: 'locator' | 'clamp', index: number): NamedPiece => {
    const { elementId, name, piece } = (kind === 'clamp' ? clamps : passive)[index] as (typeof clamps)[number];
    return { elementId, name, piece };
  };
  const caseNames = loads.map(({ name }) => String(name));
  return {
    ...NOTHING,
    status: requiredPressurePa === null ? 'not-held' : 'held',
    requiredPressurePa,
    forces,
    cases: loads.length,
    governingCase: String(caseNames[governingCase]),
    governingClamp: governingClamp === null ? null : nameOf('clamp', governingClamp),
    contacts: (contacts ?? []).map(({ kind, index, normalN, frictionN, atLimit }) => ({
      ...nameOf(kind, index),
      kind,
      normalN,
      frictionN,
      atLimit,
    })),
    bestChange:
      bestChange === null
        ? null
        : {
            ...nameOf(bestChange.kind.startsWith('clamp') ? 'clamp' : 'locator', bestChange.index),
            kind: bestChange.kind,
            // A change that helps is told only where a pressure holds at all.
            gainPa: (bestChange.gain * Number(requiredPressurePa)) / Number(scale),
          },
    notes,
  };
}

/**
 * From a cut as it was described to the pressure that holds it: forces of the cut, load cases along its path, least clamp
 * forces by linear programming, and the pressure at which the clamps give them. What is missing is listed; figures that
 * cannot be are refused with what they need; a part that no pressure holds is said to be so.
 *
 * Throws nothing but what the solver itself throws. Necessary, not sufficient: as `holding-force`.
 */
export function requiredOfCut(input: RequiredOfCutInput): RequiredOfCutResult {
  const missing = listMissing(input.cut, input.elements);
  if (missing.length > 0) return { ...NOTHING, missing };
  try {
    // Nothing that the method asks for is missing.
    return solve(input.cut as Known, input);
  } catch (error) {
    if (!(error instanceof CalcInputError)) throw error;
    return { ...NOTHING, status: 'refused', refused: { fields: error.fields, needs: error.needs } };
  }
}
