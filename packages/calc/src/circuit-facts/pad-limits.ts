import type { ProvedPad } from '../pressure-ladder/pressure-ladder.types.js';
import { toForceAtLimit } from '../strength/pad-pressure.js';
import type { FixtureElementFacts, FixtureFacts } from './circuit-facts.types.js';

/** Of a clamp of which somebody has said one of these the others are asked. */
const ASKING = ['padForm', 'padRadiusM', 'padLengthM', 'contactModulusPa', 'surfacePressureLimitPa'] as const;
/** Without these no pressure of the circuit can be told. */
const ALWAYS = [
  'padForm',
  'padRadiusM',
  'contactModulusPa',
  'surfacePressureLimitPa',
  'ratedForceN',
  'ratedPressurePa',
] as const;

/** As what is computed with: nobody has said is no number. */
const numberOf = (figure: number | null): number => figure ?? Number.NaN;

function toPad(fixture: FixtureFacts, element: FixtureElementFacts): ProvedPad {
  const { padForm, padRadiusM, padLengthM, ratedPressurePa, ratedForceN } = element;
  const asked = padForm === 'cylinder' ? ([...ALWAYS, 'padLengthM'] as const) : ALWAYS;
  // A figure that nothing has is none.
  const missing = asked.filter((name) => (name === 'padForm' ? padForm == null : !(Number(element[name]) > 0)));
  const ref = { entity: 'fixture', id: fixture.id, name: `${fixture.name}: ${element.name}` };
  if (missing.length > 0 || padForm === null) return { ref, limitPa: null, missing };
  const pad = { form: padForm, radiusM: numberOf(padRadiusM), lengthM: numberOf(padLengthM) };
  const forceN = toForceAtLimit(pad, numberOf(element.contactModulusPa), numberOf(element.surfacePressureLimitPa));
  // A clamp's force grows with the pressure, up to its rated force at its rated pressure.
  return { ref, limitPa: (forceN * numberOf(ratedPressurePa)) / numberOf(ratedForceN), missing };
}

/** Clamps whose pads may press too hard on the workpiece, where somebody asked: each with the pressure of the circuit that it allows. */
export const toPads = (fixture: FixtureFacts | null): ProvedPad[] =>
  fixture === null
    ? []
    : fixture.elements
        .filter((element) => element.kind === 'clamp' && ASKING.some((name) => element[name] != null))
        .map((element) => toPad(fixture, element));
