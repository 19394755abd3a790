import type {
  CircuitFacts,
  ComponentFacts,
  ComponentKind,
  FixtureElementFacts,
  LineFunction,
  OperationFacts,
  ReadingFacts,
} from '../src/circuit-facts/circuit-facts.types.js';

type Place = ComponentFacts['place'];
export const component = (
  kind: ComponentKind,
  place: Place,
  lineFunctions: readonly LineFunction[],
  figures: Record<string, number>,
  sensing: ComponentFacts['sensing'] = null,
): ComponentFacts => ({
  id: `${place} ${kind} ${lineFunctions.join('+')}`,
  place,
  kind,
  name: `${kind} of the ${place}`,
  lineFunctions,
  sensing,
  figures,
});

/** A crowned pad, or a round one along a line, that the workpiece mostly bears. Drawn apart from all else of the circuit. */
export function withPad(element: FixtureElementFacts, random: () => number): FixtureElementFacts {
  if (element.kind !== 'clamp') return element;
  const some = (value: number): number | null => (random() < 0.05 ? null : value * (0.7 + 0.6 * random()));
  const isRound = random() < 0.5;
  return {
    ...element,
    padForm: random() < 0.05 ? null : isRound ? 'sphere' : 'cylinder',
    padRadiusM: some(isRound ? 0.3 : 0.05),
    padLengthM: isRound ? null : some(0.025),
    contactModulusPa: some(58e9),
    surfacePressureLimitPa: some(isRound ? 3.2e8 : 2.5e8),
  };
}

/** Of some, reliefs and a check valve of their own. Drawn apart from all else of the circuit. */
export function withReliefs(components: readonly ComponentFacts[], random: () => number): readonly ComponentFacts[] {
  const pick = <T>(...choices: readonly T[]): T => choices[Math.floor(random() * choices.length)] as T;
  const some = (value: number): number => value * (0.9 + 0.3 * random());
  const aRelief = (index: number): ComponentFacts => ({
    ...component(
      'relief-valve',
      'circuit',
      pick<LineFunction[]>(['clamp'], ['clamp'], ['supply'], ['supply', 'clamp']),
      {
        ...{ ratedPressure: 350e5, openingPressure: some(190e5), fullFlowPressure: some(200e5) },
      },
    ),
    ...{ id: `circuit relief ${index}`, isBeyondShutOff: pick(null, true, true, false) },
  });
  const stored = random() < 0.07 ? [component('accumulator', 'circuit', ['clamp'], { ratedPressure: 350e5, size: 1e-4 * random(), prechargePressure: some(90e5) })] : []; // prettier-ignore
  const drifting = random() < 0.15 ? [component('pressure-regulator', 'power-unit', [], { drift: 0.2e5 * random() }), component('reducing-valve', 'circuit', ['clamp'], { ratedPressure: 350e5, drift: 8e5 * random() })] : []; // prettier-ignore
  const count = pick(0, 0, 0, 1, 2);
  const checked = random() < 0.1 ? [component('check-valve', 'circuit', [pick('supply', 'clamp')], { ratedPressure: 350e5, ...(random() < 0.8 ? { pilotRatio: 1 + 3 * random() } : {}) })] : []; // prettier-ignore
  const deadband = random() < 0.2 ? 15e5 * random() : null;
  const described = components.map((one) =>
    one.kind === 'pressure-switch' && deadband !== null ? { ...one, figures: { ...one.figures, deadband } } : one,
  );
  return [
    ...described,
    ...stored,
    ...drifting,
    ...Array.from({ length: count }, (_, index) => aRelief(index)),
    ...checked,
  ];
}

/** Of some hoses it has been said at what they burst. Drawn apart from all else of the circuit. */
export const withBursts = (components: readonly ComponentFacts[], random: () => number): readonly ComponentFacts[] =>
  random() > 0.25
    ? components
    : components.map((one) =>
        one.kind === 'hose'
          ? { ...one, figures: { ...one.figures, burstPressure: 1e5 * (700 + 500 * random()) } }
          : one,
      );

/** In some it has been said by how much reliefs may open off. Drawn apart from all else of the circuit. */
export function withOpeningTolerances(
  components: readonly ComponentFacts[],
  random: () => number,
): readonly ComponentFacts[] {
  if (random() > 0.3) return components;
  return components.map((one) =>
    one.kind === 'relief-valve' ? { ...one, figures: { ...one.figures, openingTolerance: 8e5 * random() } } : one,
  );
}

/** Where most reliefs shut again, and by how much some sequence valves may open off. Drawn apart from all else of the circuit. */
export function withReseats(components: readonly ComponentFacts[], random: () => number): readonly ComponentFacts[] {
  return components.map((valve) => {
    const share = random();
    const { openingPressure } = valve.figures;
    if (openingPressure === undefined) return valve;
    if (valve.kind === 'relief-valve' && share < 0.85) {
      return { ...valve, figures: { ...valve.figures, reseatPressure: openingPressure * (1 - 0.2 * share) } };
    }
    if (valve.kind !== 'sequence-valve' || share > 0.4) return valve;
    return { ...valve, figures: { ...valve.figures, openingTolerance: 20e5 * share } };
  });
}

/** In one circuit of ten nobody has said in which line something sits. Drawn apart from all else of the circuit. */
export function withUnplaced(components: readonly ComponentFacts[], random: () => number): readonly ComponentFacts[] {
  if (random() > 0.1) return components;
  const unplaced = Math.floor(random() * components.length);
  return components.map((each, index) => (index === unplaced ? { ...each, lineFunctions: [] } : each));
}

/** Read with oil of another day, or before something was exchanged. Drawn apart from all else of the circuit. */
export function withChanges(readings: ReadingFacts | null, random: () => number): ReadingFacts | null {
  if (readings === null) return null;
  const oilTemperatureK = random() < 0.5 ? readings.oilTemperatureK : 280 + 40 * random();
  const kinds = ['pressure-switch', 'pump', 'gauge', 'hose', 'reservoir', 'relief-valve', 'reducing-valve'] as const;
  const kind = kinds[Math.floor(random() * kinds.length)] ?? 'hose';
  return random() < 0.85
    ? { ...readings, oilTemperatureK }
    : { ...readings, oilTemperatureK, changed: [{ kind, lineFunctions: random() < 0.5 ? ['clamp'] : ['supply'] }] };
}

/** The switch as it is set or otherwise, and clamps that may have been changed since. */
export function withConditions(
  readings: ReadingFacts | null,
  setPointPa: number | null,
  elements: readonly FixtureElementFacts[] | null,
  random: () => number,
): ReadingFacts | null {
  if (readings === null) return null;
  const readAtPa = random() < 0.85 || setPointPa === null ? setPointPa : setPointPa * (0.97 + 0.06 * random());
  const isUnchanged = random() < 0.95;
  const fixtureElements =
    elements?.map((element) => ({ ...element, quantity: element.quantity + (isUnchanged ? 0 : 1) })) ?? null;
  return { ...readings, setPointPa: readAtPa, fixtureElements };
}

/** What was computed of an operation: of some nothing, of a few that no pressure holds it. Drawn apart from all else of the circuit. */
export function withComputed(
  operation: OperationFacts,
  elements: readonly FixtureElementFacts[],
  random: () => number,
): OperationFacts {
  if (operation.requiredBasis === 'typed' || random() < 0.3) return operation;
  if (random() < 0.05) return { ...operation, requiredPressurePa: null, unheldCase: '1/through' };
  const supportLoads = elements
    .filter(({ kind }) => kind === 'support')
    .map(({ id }) => ({
      elementId: id,
      loadN: random() < 0.05 ? null : 500 + 5000 * random(),
      atPressurePa: operation.requiredPressurePa ?? 100e5,
      loadPerPaN: 3e-4 * random(),
    }));
  const spread = (most: number): number | null => (random() < 0.05 ? null : most * random());
  return { ...operation, supportLoads, specificForceSpreadPa: spread(20e5), frictionSpreadPa: spread(15e5) };
}

/** Some computed operations stand on a locator that bears no more than a force. */
export function withLocatorLimit(operation: OperationFacts, random: () => number): OperationFacts {
  if (operation.supportLoads === undefined || random() > 0.3) return operation;
  return { ...operation, locatorLimitPa: random() < 0.05 ? null : 170e5 + 60e5 * random(), limitingLocator: 'Pin' };
}

/** What warms up behind an air-driven pump of which it is said that it traps nothing: mostly nothing, or little, or it is not known. */
export function withWarming(
  circuit: CircuitFacts['circuit'],
  drive: CircuitFacts['powerUnit']['drive'],
  random: () => number,
): CircuitFacts['circuit'] {
  if (drive !== 'air' || circuit.canTrap !== false || circuit.isDecoupled !== false) return circuit;
  const share = random();
  if (share < 0.75) return { ...circuit, trappedTemperatureRiseK: 0 };
  if (share > 0.9) return circuit;
  const trapped = { trappedNetExpansionPerK: 6e-4, trappedBulkModulusPa: 6e8, unclampBulkModulusPa: 6e8 };
  return { ...circuit, ...trapped, trappedTemperatureRiseK: 12 * random() };
}

/** What is said of both lines: how the unclamp line gives way where warm-up is known, and what a reducing valve does with what warms up. */
export function withBothLines(circuit: CircuitFacts['circuit'], random: () => number): CircuitFacts['circuit'] {
  const isModulusKnown = circuit.trappedBulkModulusPa !== null && random() < 0.85;
  const relieves = random();
  return {
    ...circuit,
    unclampBulkModulusPa: isModulusKnown ? 5e8 + 9e8 * random() : null,
    reducingValveRelieves: relieves < 0.6 ? true : relieves < 0.8 ? false : null,
  };
}
