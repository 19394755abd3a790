import type { ActuationGroup, ActuationInput, FurtherProofInput, LinePiece } from '@repo/calc';
import type { ComponentKind } from '@repo/contracts';
import type {
  AsLeftFacts,
  CircuitFacts,
  ComponentFacts,
  FixtureElementFacts,
  FixtureFacts,
  LadderFacts,
} from './ladder-facts.repository.js';
import { figureOf, refOf } from './component-figures.js';

/** What the checks beside the pressure ladder stand on, besides the control. */
export type MovementInput = Omit<FurtherProofInput, 'controlWiring' | 'interlock' | 'marginsAsked'>;

const CYLINDERS: ReadonlySet<ComponentKind> = new Set(['swing-clamp', 'lever-clamp', 'cylinder', 'work-support']);
/** A reading at a temperature this little above the coldest counts as one with the coldest oil. */
const NEARLY_COLD_K = 0.5;

type Line = 'supply' | 'clamp' | 'unclamp' | 'tank';

/** The tubes and hoses of one line, each with its bore. */
function toPieces(components: readonly ComponentFacts[], line: Line): LinePiece[] {
  return components
    .filter(({ kind, lineFunctions }) => (kind === 'tube' || kind === 'hose') && lineFunctions.includes(line))
    .map((component) => {
      const [outerM, wallM] = [figureOf(component, 'outerDiameter'), figureOf(component, 'wall')];
      const isHose = component.kind === 'hose';
      return {
        ref: refOf(component),
        lengthM: figureOf(component, 'length'),
        innerDiameterM: isHose
          ? figureOf(component, 'innerDiameter')
          : outerM === null || wallM === null
            ? null
            : outerM - 2 * wallM,
        isHose,
        expansionModulusPa: isHose ? figureOf(component, 'expansionModulus') : null,
      };
    });
}

function toElementGroup(fixture: FixtureFacts, element: FixtureElementFacts): ActuationGroup {
  return {
    ref: { entity: 'fixture', id: fixture.fixtureId, name: `${fixture.name}: ${element.name}` },
    role: element.kind === 'support' ? 'support' : 'clamp',
    count: element.quantity,
    acting: element.acting,
    boreM: element.boreM,
    rodM: element.rodM,
    strokeM: element.strokeM,
    frictionN: element.frictionN,
    viscousFrictionNsPerM: element.viscousFrictionNsPerM,
    contactStiffnessNPerM: element.contactStiffnessNPerM,
    springForceN: element.springForceN,
  };
}

/** A cylinder that is fitted to the machine rather than to its fixture. */
function toComponentGroup(component: ComponentFacts): ActuationGroup {
  return {
    ref: refOf(component),
    role: component.kind === 'work-support' ? 'support' : 'clamp',
    count: 1,
    // What has an unclamp line is pushed back by oil.
    acting: component.lineFunctions.includes('unclamp') ? 'double' : 'single',
    boreM: figureOf(component, 'bore'),
    rodM: figureOf(component, 'rod'),
    strokeM: figureOf(component, 'stroke'),
    frictionN: figureOf(component, 'friction'),
    viscousFrictionNsPerM: figureOf(component, 'viscousFriction'),
    contactStiffnessNPerM: figureOf(component, 'contactStiffness'),
    springForceN: figureOf(component, 'springForce'),
  };
}

interface Moved {
  elements: readonly FixtureElementFacts[];
  components: readonly ComponentFacts[];
  groups: ActuationGroup[];
}

/** What moves in a circuit: clamps and supports of the fixture on its station, then cylinders of its own. */
function toMoved(facts: LadderFacts, circuitId: string, stationId: string): Moved {
  const fixture = facts.fixtures.find((one) => one.stationId === stationId);
  const elements = (fixture?.elements ?? []).filter(({ kind }) => kind !== 'locator');
  const components = facts.components.filter((one) => one.circuitId === circuitId && CYLINDERS.has(one.kind));
  const ofElements = fixture === undefined ? [] : elements.map((element) => toElementGroup(fixture, element));
  return { elements, components, groups: [...ofElements, ...components.map(toComponentGroup)] };
}

const product = (...factors: (number | null)[]): number | null =>
  factors.reduce<number | null>((all, one) => (all === null || one === null ? null : all * one), 1);

function toPump(
  circuit: CircuitFacts,
  pump: ComponentFacts | undefined,
  airPressurePa: number | null,
  settingPa: number | null,
): ActuationInput['pump'] {
  const lowAirPa =
    airPressurePa === null || circuit.plantAirLowPa === null ? null : Math.min(airPressurePa, circuit.plantAirLowPa);
  const atAir = (airPa: number | null): number | null =>
    product(figureOf(pump, 'pistonRatio'), figureOf(pump, 'stallEfficiency'), airPa);
  const highest = figureOf(pump, 'highestPressure');
  const [stall, low] = circuit.drive === 'air' ? [atAir(airPressurePa), atAir(lowAirPa)] : [highest, highest];
  // Behind a reducing valve the circuit rises no further than its setting.
  const behindValve = (pressurePa: number | null): number | null =>
    !circuit.hasReducingValve
      ? pressurePa
      : pressurePa === null || settingPa === null
        ? null
        : Math.min(pressurePa, settingPa);
  return {
    freeFlowM3PerS: figureOf(pump, 'freeFlow'),
    stallPressurePa: behindValve(stall),
    stallPressureLowPa: behindValve(low),
  };
}

function toOrder(
  { elements, components, groups }: Moved,
  circuitComponents: readonly ComponentFacts[],
): FurtherProofInput['order'] {
  const sequence = circuitComponents.filter(({ kind }) => kind === 'sequence-valve');
  const opening = sequence.map((valve) => figureOf(valve, 'openingPressure'));
  const isKnown = opening.length > 0 && opening.every((pressure) => pressure !== null);
  const refAt = (index: number) => groups[index]?.ref ?? { entity: 'circuit', id: '', name: '' };
  const supports = [
    ...elements.flatMap((element, index) =>
      element.kind !== 'support'
        ? []
        : [
            {
              ref: refAt(index),
              lockPressurePa: element.leastWorkingPressurePa,
              highestLoadN: element.highestLoadN,
              ratedLoadN: element.ratedForceN,
              ratedPressurePa: element.ratedPressurePa,
            },
          ],
    ),
    ...components
      .filter(({ kind }) => kind === 'work-support')
      .map((component) => ({
        ref: refOf(component),
        lockPressurePa: figureOf(component, 'leastWorkingPressure'),
        highestLoadN: figureOf(component, 'highestLoad'),
        ratedLoadN: figureOf(component, 'loadCapacity'),
        ratedPressurePa: figureOf(component, 'ratedPressure'),
      })),
  ];
  const swingClamps = [
    ...elements.flatMap(({ kind, form, highestFlowM3PerS, armPressurePa }, group) =>
      // A clamp of which nobody has said what it is may swing: its figures are asked for.
      kind === 'clamp' && (form ?? 'swing-clamp') === 'swing-clamp'
        ? [{ group, highestFlowM3PerS, armPressurePa }]
        : [],
    ),
    ...components.flatMap((component, index) =>
      component.kind !== 'swing-clamp'
        ? []
        : [
            {
              group: elements.length + index,
              highestFlowM3PerS: figureOf(component, 'highestFlow'),
              armPressurePa: figureOf(component, 'armPressure'),
            },
          ],
    ),
  ];
  return {
    supports,
    swingClamps,
    hasSequenceValve: sequence.length > 0,
    sequencePressurePa: isKnown ? Math.min(...opening.map(Number)) : null,
  };
}

/** What was read at the setting in use; of unclamping only what was read with cold oil. */
function toMeasured(circuit: CircuitFacts, asLeft: AsLeftFacts | undefined, settingPa: number | null) {
  if (asLeft === undefined || asLeft.settingPa === null || asLeft.settingPa !== settingPa) return null;
  const { clampTimeS, contactTimeS, unclampTimeS, timeToleranceS, oilTemperatureK } = asLeft;
  const coldK = circuit.coldOilTemperatureK;
  const isCold = oilTemperatureK !== null && coldK !== null && oilTemperatureK <= coldK + NEARLY_COLD_K;
  return {
    timeToSwitchS: clampTimeS,
    timeToContactS: contactTimeS,
    unclampColdS: isCold ? unclampTimeS : null,
    halfWidthS: timeToleranceS,
  };
}

/** The facts of one circuit as the checks of time, opening, order and reservoir take them. What is not recorded stays null. */
export function toMovementInput(
  facts: LadderFacts,
  circuit: CircuitFacts,
  use: {
    settingPa: number | null;
    setPointPa: number | null;
    airPressurePa: number | null;
    asLeft: AsLeftFacts | undefined;
  },
): MovementInput {
  const components = facts.components.filter(
    (component) => component.circuitId === circuit.id || component.powerUnitId === circuit.powerUnitId,
  );
  const ofKind = (kind: ComponentKind): ComponentFacts | undefined =>
    components.find((component) => component.kind === kind && component.circuitId === circuit.id) ??
    components.find((component) => component.kind === kind);
  const valve = ofKind('directional-valve');
  const reservoir = ofKind('reservoir');
  const sensing = ofKind('pressure-switch')?.sensing ?? null;
  const moved = toMoved(facts, circuit.id, circuit.stationId);
  return {
    actuation: {
      groups: moved.groups,
      pump: toPump(circuit, ofKind('pump'), use.airPressurePa, use.settingPa),
      valve:
        valve === undefined
          ? null
          : {
              ref: refOf(valve),
              ratedFlowM3PerS: figureOf(valve, 'ratedFlow'),
              lossAtRatedFlowPa: figureOf(valve, 'lossAtRatedFlow'),
            },
      lines: {
        supply: toPieces(components, 'supply'),
        clamp: toPieces(components, 'clamp'),
        unclamp: toPieces(components, 'unclamp'),
        tank: toPieces(components, 'tank'),
      },
      oil: {
        viscosityAt40M2PerS: circuit.oilViscosityAt40M2PerS,
        viscosityAt100M2PerS: circuit.oilViscosityAt100M2PerS,
        densityKgPerM3: circuit.oilDensityKgPerM3,
        bulkModulusPa: circuit.oilBulkModulusPa,
        airFraction: circuit.oilAirFraction,
        coldTemperatureK: circuit.coldOilTemperatureK,
        workingTemperatureK: circuit.workingOilTemperatureK,
      },
      returnPressurePa: circuit.returnPressurePa,
      switchRisingPa: use.setPointPa,
      switchAt: sensing === null ? null : sensing === 'pump' ? 'pump' : 'manifold',
    },
    measured: toMeasured(circuit, use.asLeft, use.settingPa),
    clampTimeAllowedS: circuit.clampTimeAllowedS,
    unclampTimeAllowedS: circuit.unclampTimeAllowedS,
    needsOpenProof: circuit.needsOpenProof,
    hasOpenProof: circuit.hasOpenProof,
    order: toOrder(
      moved,
      components.filter((component) => component.circuitId === circuit.id),
    ),
    reservoir: {
      circuits: [
        circuit,
        ...facts.fed.filter((other) => other.powerUnitId === circuit.powerUnitId && other.id !== circuit.id),
      ].map(({ id, name, stationId }) => ({
        ref: { entity: 'circuit', id, name },
        groups: toMoved(facts, id, stationId).groups,
        clampLine: toPieces(
          facts.components.filter((component) => component.circuitId === id),
          'clamp',
        ),
      })),
      usableVolumeM3: figureOf(reservoir, 'usableVolume'),
      freeVolumeM3: figureOf(reservoir, 'freeVolume'),
    },
  };
}
