import { proveCircuit, type CircuitProofInput } from '../circuit-checks/prove-circuit.js';
import type { PressureLadderResult } from '../pressure-ladder/pressure-ladder.types.js';
import type { CircuitFacts, ComponentFacts, ReadingFacts } from './circuit-facts.types.js';
import { toControlWiring, toInterlock } from './control-input.js';
import { figureOf, findOfKind, mayBeIn, refOf } from './component-figures.js';
import { leastWorkingOf, toPressureLadderInput } from './pressure-ladder-input.js';
import { toMovementInput } from './movement-input.js';
import { asItStands, errorOfReadings, findThinning, isAsRead, isSetByGaugeOfReadings } from './reading-conditions.js';

type Shared = Pick<CircuitProofInput['sharedSupply']['others'][number], 'lowestPressurePa' | 'atLeastPa'>;

/**
 * Lowest pressure while a neighbour clamps, with the lowest air: at a given flow an air-driven pump's pressure goes with its stall, and its
 * stall with the air. Where the lowest is not known the check asks for it. With oil that was colder than at work it was kept up by what lines lose:
 * were they all that holds the flow back (Hagen–Poiseuille), so much would be left in thinner oil, and surely no less.
 */
function toLowestShared(facts: CircuitFacts, readings: ReadingFacts): Shared {
  const { powerUnit, components } = facts;
  const { lowestWhileSharedPa: lowestPa, airPressurePa, oilTemperatureK } = readings;
  if (lowestPa === null) return { lowestPressurePa: null };
  const { drive, plantAirLowPa } = powerUnit;
  const isByAir = drive === 'air';
  const share = !isByAir || plantAirLowPa === null || !airPressurePa ? 1 : Math.min(1, plantAirLowPa / airPressurePa);
  const lowestPressurePa = lowestPa * share;
  const thinning = findThinning(powerUnit, oilTemperatureK);
  if (thinning === 1) return { lowestPressurePa };
  const ratio = isByAir ? figureOf(findOfKind(components, 'pump'), 'pistonRatio') : null;
  const error = errorOfReadings(facts);
  if (thinning === null || error === null || (isByAir && (ratio === null || airPressurePa === null)))
    return { lowestPressurePa, atLeastPa: null };
  // The flow falls to nothing at the stall, which is no higher than ratio and air make it.
  const stallPa = isByAir ? Number(ratio) * Number(airPressurePa) : null;
  const atWork = (readPa: number): number => share * toThinner(readPa, thinning, stallPa);
  // Near the stall a little less as it was read is much less at work. By the gauge's error itself it is judged apart.
  return { lowestPressurePa, atLeastPa: Math.max(0, Math.min(atWork(lowestPa), atWork(lowestPa - error) + error)) };
}

/** What is left in so much thinner oil of a pressure that was read while it flowed; null: a pump that gives its flow at any pressure. */
function toThinner(readPa: number, thinning: number, stallPa: number | null): number {
  if (stallPa === null) return readPa / thinning;
  const left = readPa / (stallPa - readPa) / thinning;
  return left < 0 ? readPa : (stallPa * left) / (1 + left);
}

/** It may be upon the clamp line, and gives way with its oil. */
const isStoring = (component: ComponentFacts): boolean =>
  component.kind === 'accumulator' && component.place === 'circuit' && mayBeIn(component, 'clamp');

/** The input of the checks, derived from what is recorded; that of the pressure ladder may be there already. */
export function toProofInput(
  recorded: CircuitFacts,
  pressureLadder = toPressureLadderInput(recorded),
): CircuitProofInput {
  const facts = asItStands(recorded);
  const { circuit, components, neighbours, control, marginsAsked } = facts;
  const { readings } = facts.settings;
  return {
    pressureLadder,
    sharedSupply: {
      others: neighbours.map(({ id, name, isFixtureAsRead = true }) => ({
        ref: { entity: 'circuit', id, name },
        // As this circuit's own readings: with the fixtures that were on both stations.
        ...(readings !== null && isAsRead(facts) && isFixtureAsRead === true
          ? toLowestShared(facts, readings)
          : { lowestPressurePa: null }),
      })),
      ...(isSetByGaugeOfReadings(facts) || readings === null ? {} : { readingErrorPa: errorOfReadings(facts) }),
    },
    withoutSupply: {
      isDecoupled: circuit.isDecoupled,
      timeWithoutS: circuit.timeWithoutSupplyS,
      coolingK: circuit.coolingWithoutSupplyK,
      isProvedAgain: circuit.isProvedAgain,
      stores: components.filter(isStoring).map((component) => ({
        ref: refOf(component),
        sizeM3: figureOf(component, 'size'),
        prechargePa: leastWorkingOf(component, facts),
      })),
    },
    ...toMovementInput(facts),
    controlWiring: toControlWiring(facts),
    interlock: toInterlock(control, circuit.id),
    marginsAsked,
  };
}

/**
 * The proof of a circuit from what is recorded of it.
 * What is not known is never replaced: the check is then `unproven` and says what is missing. Never throws.
 */
export const proveFacts = (facts: CircuitFacts): PressureLadderResult => proveCircuit(toProofInput(facts));
