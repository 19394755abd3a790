import { drillingLoads, millingLoads, tappingLoads } from '../cutting/cut-loads.js';
import { drillingForce } from '../cutting/drilling-force.js';
import { millingForce } from '../cutting/milling-force.js';
import { millingTeeth } from '../cutting/milling-teeth.js';
import { tappingTorque } from '../cutting/tapping-torque.js';
import { CalcInputError, requireThat } from '../errors.js';
import type { MissingFigure } from '../pressure-ladder/pressure-ladder.types.js';
import { findOverloadedStep, findStepScales, findTippingStep, type ClampedStep } from './clamping-steps.js';
import type { HoldingContact, HoldingForceInput, HoldingLoad } from './holding-force.js';
import { indexingLoads, listMissingOfIndexing } from './indexing-loads.js';
import { operationRequiredPressure } from './operation-required-pressure.js';
import { SURE } from './holding-cases.js';
import { findRequiredSpread, resistingMore, spreadRatiosOf } from './required-spread.js';
import { findContactLoads } from './contact-loads.js';
import { ZERO_VECTOR } from './vector.js';
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
  ],
  drilling: ['kc11Pa', 'mc', 'diameterM', 'feedM', 'pointAngleRad', 'thrustFactor', 'breakthroughRatio'],
  tapping: ['kcPa', 'pitchM', 'diameterM', 'wear', 'axialForceN'],
};
const ALWAYS = ['toolAxis', 'partMassKg', 'centreOfMassM', 'gravity', 'safetyFactor', 'coneFacets'] as const;
/** More would take longer than anybody waits for an answer. */
const MOST_CONTACTS = 60;
/** Directions of feed that are always tried: what turns is then reckoned at most 0.9 % too large, and never too small. */
const LEAST_DIRECTIONS = 24;
/** What is tried to find the change that helps most: a fifth more force, a little more friction, a contact moved 5 mm. */
const STEPS = { forceStep: 0.2, frictionStep: 0.02, shiftM: 0.005 };

/** A clamp that a spring pushes back: it presses with what the oil pushes, less that. */
const isSprung = ({ kind, acting }: HoldingElement): boolean => kind === 'clamp' && acting === 'single';
const toBackN = (element: HoldingElement): number => (isSprung(element) ? Number(element.springForceAtContactN) : 0);
/** What the oil pushes with at the rated pressure, whatever a spring takes off. */
const toPushN = (element: HoldingElement): number => Number(element.ratedForceN) + toBackN(element);

function listMissing(cut: CutFigures, elements: readonly HoldingElement[]): MissingFigure[] {
  const figures: (keyof CutFigures)[] = [...ASKED[cut.method], ...ALWAYS];
  const missing: MissingFigure[] = figures.filter((name) => cut[name] === null).map((field) => ({ field, ref: null }));
  if (cut.pointsM.length === 0) missing.push({ field: 'pointsM', ref: null });
  missing.push(...listMissingOfIndexing(cut).map((field) => ({ field, ref: null })));
  for (const kind of ['clamp', 'locator'] as const) {
    if (!elements.some((element) => element.kind === kind)) missing.push({ field: `${kind}s`, ref: null });
  }
  for (const element of elements) {
    const { id, name, kind, quantity, ratedForceN, ratedPressurePa, leastWorkingPressurePa } = element;
    const { frictionCoefficient, places } = element;
    const ask = (field: string, isThere: boolean): void => {
      if (!isThere) missing.push({ field, ref: { entity: 'fixture', id, name } });
    };
    ask('places', places.length === quantity);
    ask('frictionCoefficient', frictionCoefficient !== null);
    ask('ratedForceN', kind === 'locator' || ratedForceN !== null);
    ask('ratedPressurePa', kind === 'locator' || ratedPressurePa !== null);
    ask('leastWorkingPressurePa', kind !== 'support' || leastWorkingPressurePa !== null);
    ask('acting', kind !== 'clamp' || element.acting !== null);
    ask('springForceAtContactN', !isSprung(element) || element.springForceAtContactN != null);
  }
  return missing;
}

/** By which direction of the weight it is: the first is that in which the workpiece is clamped. */
const turnedName = (index: number): string => `turned/${index + 2}`;

/** The load cases again, and the workpiece clamped and not cutting, with the weight in each further direction. */
function withOtherGravities(loads: readonly HoldingLoad[], { otherGravities = [] }: CutFigures): HoldingLoad[] {
  const turned = otherGravities.flatMap((gravity, index) => [
    { name: turnedName(index), forceN: ZERO_VECTOR, pointM: ZERO_VECTOR, gravity },
    ...loads.map((load) => ({ ...load, name: `${load.name}/weight-${index + 2}`, gravity })),
  ]);
  return [...loads, ...turned];
}

/** What the cut does to the part, and its load cases; then those of the pallet that moves. */
function toLoads(cut: Known): { forces: Forces; loads: HoldingLoad[] } {
  const { forces, loads } = toCutting(cut);
  return { forces, loads: [...withOtherGravities(loads, cut), ...indexingLoads(cut)] };
}

function toCutting(cut: Known): { forces: Forces; loads: HoldingLoad[] } {
  const { pointsM, toolAxis, kc11Pa, mc, diameterM, feedM, wear } = cut;
  switch (cut.method) {
    case 'milling': {
      const { teeth, axialDepthM, radialWidthM, engagement, leadAngleRad } = cut;
      const figures = {
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
      };
      const { peakTangentialForceN } = millingForce(figures);
      const { radialRatio, axialForceN, directions } = cut;
      return {
        forces: {
          tangentialN: peakTangentialForceN,
          thrustN: null,
          torqueNm: (peakTangentialForceN * diameterM) / 2,
        },
        loads: millingLoads({
          pathM: pointsM,
          toolAxis,
          cutterDiameterM: diameterM,
          teeth: millingTeeth(figures),
          radialRatio,
          axialForceN,
          // Left out is none that is asked for.
          directions: Math.max(LEAST_DIRECTIONS, Number(directions)),
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
  supportLoads: [],
  locatorLimit: null,
  spread: null,
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

type Piece = ReturnType<typeof toPieces>[number];

const toName = ({ elementId, name, piece }: Piece): NamedPiece => ({ elementId, name, piece });

/** What holds the workpiece, pressed at a factor one by the pressure of reference. */
interface Held {
  holding: HoldingForceInput & { leastScale: number };
  clamps: readonly Piece[];
  passive: readonly Piece[];
  /** the lowest pressure for which a clamp is rated: factor one [Pa] */
  referencePa: number;
  /** clamped and not cutting: after each step of the clamping order, then as the pallet turns */
  steps: readonly ClampedStep[];
  /** the pallet moving, all clamps pressing, by the direction of the weight; what it asks for is among the load cases */
  moving: readonly ClampedStep[];
  loads: readonly HoldingLoad[];
}

function toHeld(cut: Known, { elements, solver }: RequiredOfCutInput, loads: readonly HoldingLoad[]): Held {
  const clamps = toPieces(elements.filter(({ kind }) => kind === 'clamp'));
  const passive = toPieces(elements.filter(({ kind }) => kind !== 'clamp'));
  const { partMassKg, centreOfMassM, gravity, safetyFactor, coneFacets } = cut;
  const mostContacts = `at most ${MOST_CONTACTS} contacts`;
  requireThat(clamps.length + passive.length <= MOST_CONTACTS, 'out-of-range', ['places'], mostContacts);
  const referencePa = Math.min(...clamps.map(({ element }) => Number(element.ratedPressurePa)));
  // One pressure for all: what each gives at the pressure of reference.
  const atReference = (element: HoldingElement): number =>
    (toPushN(element) * referencePa) / Number(element.ratedPressurePa);
  const friction = ({ frictionCoefficient }: HoldingElement): number => Number(frictionCoefficient);
  const locking = passive.map(({ element }) =>
    element.kind === 'support' ? Number(element.leastWorkingPressurePa) : 0,
  );
  // Elements clamp in the order in which they are listed; the pieces of one go together.
  const order = [...new Set(clamps.map(({ elementId }) => elementId))];
  const moved = indexingLoads(cut);
  return {
    clamps,
    passive,
    referencePa,
    loads,
    steps: [
      ...order.map((_, step) => ({
        name: `clamped/${step + 1}`,
        pressing: new Set(clamps.flatMap(({ elementId }, index) => (order.indexOf(elementId) <= step ? [index] : []))),
      })),
      ...(cut.otherGravities ?? []).map((gravity, index) => ({
        name: turnedName(index),
        pressing: new Set(clamps.keys()),
        gravity,
      })),
    ],
    moving: [...new Set(moved.map(({ name }) => String(name)))].map((name) => ({
      name,
      pressing: new Set(clamps.keys()),
      loads: moved.filter((load) => load.name === name),
    })),
    holding: {
      solver,
      partMassKg,
      centreOfMassM,
      gravity,
      safetyFactor,
      coneFacets,
      loads,
      // Below the pressure at which the last of them locks, supports carry nothing.
      leastScale: Math.max(0, ...locking) / referencePa,
      locators: passive.map(({ element, place }) => {
        // A support carries in proportion to its pressure, up to its rated load.
        const isSupport = element.kind === 'support';
        const limitN = isSupport ? element.ratedForceN : element.forceLimitN;
        return {
          name: element.name,
          pointM: place.pointM,
          normal: place.direction,
          friction: friction(element),
          ...(limitN === null ? {} : { limitN }),
          ...(isSupport ? { limitAtScaleOneN: atReference(element) } : {}),
        };
      }),
      clamps: clamps.map(({ element, place }) => ({
        name: element.name,
        pointM: place.pointM,
        direction: place.direction,
        forceN: atReference(element),
        backN: toBackN(element),
        friction: friction(element),
        fixed: false,
      })),
      ...STEPS,
    },
  };
}

/** What each support bears at the required pressure, and how much more above it: the most of its pieces. */
function toSupportLoads(
  { holding, steps, passive, referencePa }: Held,
  scale: number,
): RequiredOfCutResult['supportLoads'] {
  const supports = passive.flatMap(({ element }, index) => (element.kind === 'support' ? [index] : []));
  const loads = findContactLoads({ holding, steps, asked: supports, scale });
  const ids = [...new Set(supports.map((index) => String(passive[index]?.elementId)))];
  return ids.map((elementId) => {
    const ownLoads = loads.filter((_, index) => passive[supports[index] as number]?.elementId === elementId);
    const known = ownLoads.flatMap((load) => (load === null ? [] : [load]));
    const isKnown = known.length === ownLoads.length;
    return {
      elementId,
      loadN: isKnown ? Math.max(...known.map(({ loadN }) => loadN)) : null,
      atPressurePa: scale * referencePa,
      loadPerPaN: isKnown ? Math.max(...known.map(({ perScaleN }) => perScaleN)) / referencePa : null,
    };
  });
}

/** The locator that bears as much as it may first as the pressure goes up; null: none has a limit, or the clamps press upon none that has. */
function findLocatorLimit(
  { holding, steps, passive, referencePa }: Held,
  scale: number,
): RequiredOfCutResult['locatorLimit'] {
  const asked = passive.flatMap(({ element: { kind, forceLimitN } }, index) =>
    kind === 'locator' && forceLimitN !== null ? [index] : [],
  );
  const limits = findContactLoads({ holding, steps, asked, scale }).map((load, place) => {
    const piece = passive[asked[place] as number] as Piece;
    const limitN = Number(piece.element.forceLimitN);
    const at =
      load === null ? null : load.perScaleN > SURE * limitN ? scale + (limitN - load.loadN) / load.perScaleN : Infinity;
    return { ...toName(piece), limitN, loadN: load && load.loadN, at };
  });
  const known = limits.filter(({ at }) => at !== Infinity);
  const [first] = known.sort((a, b) => Number(a.at) - Number(b.at));
  if (first === undefined) return null;
  const { at, ...locator } = first;
  return { ...locator, highestPressurePa: at === null ? null : Math.max(0, at * referencePa) };
}

function solve(cut: Known, input: RequiredOfCutInput): RequiredOfCutResult {
  const { forces, loads } = toLoads(cut);
  const ratios = spreadRatiosOf(cut);
  const held = toHeld(cut, input, loads);
  const { clamps, passive, steps, moving } = held;
  // Turned, it is among the load cases as well.
  const inOrder = steps.filter(({ gravity }) => gravity === undefined).length;
  const common = { ...NOTHING, forces, cases: loads.length + inOrder };
  const stepName = (step: number): string => String(steps[step]?.name);
  const stepScales = findStepScales(held);
  const loose = stepScales.indexOf(null);
  const tipping = loose >= 0 ? loose : findTippingStep(held);
  if (tipping >= 0) return { ...common, status: 'not-held', governingCase: stepName(tipping) };
  const swaying = moving[findTippingStep({ ...held, steps: moving })];
  if (swaying !== undefined) return { ...common, status: 'not-held', governingCase: swaying.name };
  const slowest = Math.max(...stepScales.map(Number));
  const holding = { ...held.holding, leastScale: slowest };
  const ratings = clamps.map(({ element }) => ({
    ratedForceN: toPushN(element),
    ratedPressurePa: Number(element.ratedPressurePa),
  }));
  const found = operationRequiredPressure({ holding, ratings });
  const { requiredPressurePa, governingClamp } = found;
  const { governingCase, contacts, bestChange, notes, scale } = found.holding;
  const caseName = String(loads[governingCase]?.name);
  if (scale === null) return { ...common, status: 'not-held', governingCase: caseName, notes };
  const overloaded = findOverloadedStep({ holding, steps, scale });
  if (overloaded >= 0) return { ...common, status: 'not-held', governingCase: stepName(overloaded), notes };
  const nameOf = (kind: 'locator' | 'clamp', index: number): NamedPiece =>
    toName((kind === 'clamp' ? clamps : passive)[index] as Piece);
  // Where no cut asks for more than it takes to be clamped, that is what governs.
  const isClampedAlone = scale > 0 && scale <= slowest * (1 + SURE);
  return {
    ...common,
    status: 'held',
    requiredPressurePa,
    governingCase: isClampedAlone ? stepName(stepScales.indexOf(slowest)) : caseName,
    // Where there is a factor, there is a clamp that it is of, and what it presses.
    governingClamp: nameOf('clamp', Number(governingClamp)),
    contacts: (contacts as HoldingContact[]).map(({ kind, index, normalN, frictionN, atLimit }) => ({
      ...nameOf(kind, index),
      kind,
      normalN,
      frictionN,
      atLimit,
    })),
    supportLoads: toSupportLoads({ ...held, holding }, scale),
    locatorLimit: findLocatorLimit({ ...held, holding }, scale),
    spread: findRequiredSpread({
      ...{ holding, steps, scale, referencePa: held.referencePa, ratios },
      // A material that resists more loads the same cases, each more.
      heavier: toLoads(resistingMore(cut, ratios.specificForceRatio)).loads,
    }),
    bestChange:
      bestChange === null
        ? null
        : {
            ...nameOf(bestChange.kind.startsWith('clamp') ? 'clamp' : 'locator', bestChange.index),
            kind: bestChange.kind,
            // A change that helps is told only where a pressure holds at all.
            gainPa: (bestChange.gain * Number(requiredPressurePa)) / scale,
          },
    notes,
  };
}

/**
 * From a cut as it was described to the pressure that holds it: forces of the cut, load cases along its path and after each step of
 * clamping, least clamp forces by linear programming, and the pressure at which the clamps give them. What is missing is listed; figures that
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
