import type { ActuationGroup, ActuationInput, MovingFirst } from '../circuit-checks/actuation.types.js';
import { Figures, isNotNegative, isPositive, toArea } from '../circuit-checks/figures.js';
import { toOilVolumes } from '../circuit-checks/oil-volumes.js';
import type { MeasuredTimes } from '../circuit-checks/measured-times.js';
import type { PartChecksInput } from '../circuit-checks/part-checks.js';
import type { LoadByPressure, SupportInput } from '../circuit-checks/support-load.js';
import { toRise } from '../pressure-ladder/thermal-rise.js';
import type {
  CircuitFacts,
  ComponentFacts,
  ComponentKind,
  FixtureElementFacts,
  FixtureFacts,
  OperationFacts,
} from './circuit-facts.types.js';
import {
  CYLINDERS,
  figureOf,
  findOfKind,
  listOfKind,
  pulls,
  pullsOf,
  refOf,
  WITHOUT_PRESSURE,
} from './component-figures.js';
import { findSettingHalfWidth, findSwitches, largestOf } from './pressure-ladder-input.js';
import { toLines, toPieces } from './line-input.js';
import { toOil } from './oil-input.js';
import {
  mayBeReduced,
  listPiloted,
  listStayingShut,
  mayStayShut,
  isSurelyShutIn,
  unclampLineCanTrap,
} from './shut-off.js';
import { isAsRead, isReadAtSlowest, isSetPointAsRead } from './reading-conditions.js';

/** What the checks beside the pressure ladder stand on, besides the control. */
export type MovementInput = Omit<PartChecksInput, 'controlWiring' | 'interlock' | 'marginsAsked'>;

/** No oil passes through them on its way, or it is known by what they are where they stand. */
const ASIDE: ReadonlySet<ComponentKind> = new Set<ComponentKind>([
  ...(['pump', 'gauge', 'pressure-switch', 'relief-valve'] as const),
  ...(['directional-valve', 'pressure-regulator', 'reducing-valve'] as const),
]);

function toElementGroup(fixture: FixtureFacts, element: FixtureElementFacts): ActuationGroup {
  return {
    ref: { entity: 'fixture', id: fixture.id, name: `${fixture.name}: ${element.name}` },
    role: element.kind === 'support' ? 'support' : 'clamp',
    count: element.quantity,
    pulls: pullsOf(element),
    isSequenced: element.kind === 'clamp',
    acting: element.acting,
    boreM: element.boreM,
    rodM: element.rodM,
    strokeM: element.strokeM,
    frictionN: element.frictionN,
    viscousFrictionNsPerM: element.viscousFrictionNsPerM,
    contactStiffnessNPerM: element.contactStiffnessNPerM,
    springForceN: element.springForceN,
    springForceAtContactN: element.springForceAtContactN,
  };
}

/** A cylinder that is fitted to the machine rather than to its fixture. */
function toComponentGroup(component: ComponentFacts): ActuationGroup {
  return {
    ref: refOf(component),
    role: component.kind === 'work-support' ? 'support' : 'clamp',
    count: 1,
    pulls: pulls(component),
    isSequenced: component.kind !== 'work-support',
    // What has an unclamp line is pushed back by oil; of what has no line that anybody has said it is not known.
    acting:
      component.lineFunctions.length === 0 ? null : component.lineFunctions.includes('unclamp') ? 'double' : 'single',
    boreM: figureOf(component, 'bore'),
    rodM: figureOf(component, 'rod'),
    strokeM: figureOf(component, 'stroke'),
    frictionN: figureOf(component, 'friction'),
    viscousFrictionNsPerM: figureOf(component, 'viscousFriction'),
    contactStiffnessNPerM: figureOf(component, 'contactStiffness'),
    springForceN: figureOf(component, 'springForce'),
    springForceAtContactN: figureOf(component, 'springForceAtContact'),
  };
}

interface Moved {
  elements: readonly { element: FixtureElementFacts; group: ActuationGroup }[];
  components: readonly ComponentFacts[];
  groups: ActuationGroup[];
}

/** What moves in a circuit: clamps and supports of the fixture on its station, then cylinders of its own. */
function toMoved(fixture: FixtureFacts | null, ofCircuit: readonly ComponentFacts[]): Moved {
  const elements =
    fixture === null
      ? []
      : fixture.elements
          .filter(({ kind }) => kind !== 'locator')
          .map((element) => ({ element, group: toElementGroup(fixture, element) }));
  const components = ofCircuit.filter(({ kind }) => CYLINDERS.has(kind));
  return { elements, components, groups: [...elements.map(({ group }) => group), ...components.map(toComponentGroup)] };
}

const product = (...factors: (number | null)[]): number | null =>
  factors.reduce<number | null>((all, one) => (all === null || one === null ? null : all * one), 1);

/** More than any pump reaches: its flow does not fall on the way there [Pa]. */
const NEVER_STALLS_PA = 1e9;

const listStores = (components: readonly ComponentFacts[]) =>
  components
    .filter(({ kind }) => kind === 'accumulator')
    .map((component) => ({ ref: refOf(component), sizeM3: figureOf(component, 'size') }));

/** Circuits of its station go by one code. */
function listOfStation({ circuit, neighbours, control }: CircuitFacts): CircuitFacts['neighbours'] {
  const stationOf = (id: string): string | undefined => control.circuits.find((one) => one.id === id)?.stationId;
  const stationId = stationOf(circuit.id);
  return neighbours.filter(({ id }) => stationId !== undefined && stationOf(id) === stationId);
}

/** They take the pump's flow first where they move more easily. */
function listMovingFirst(facts: CircuitFacts, reachedPa: number | null): MovingFirst[] {
  const { circuit, components, powerUnit } = facts;
  return listOfStation(facts).map((drawing) => {
    const { groups } = toMoved(drawing.fixture, drawing.components);
    const lines = { ...toLines(components).lines, clamp: toPieces(drawing.components, 'clamp') };
    const stores = listStores(drawing.components);
    const { clampVolumeM3: volumeM3, missing } = toOilVolumes(
      { groups, lines, oil: toOil(powerUnit), stores },
      reachedPa,
    );
    const figures = new Figures();
    const movesAtPa = Math.max(0, ...groups.map((group) => toMovingPressure(group, circuit.returnPressurePa, figures)));
    return {
      volumeM3,
      movesAtPa: figures.missing.length > 0 ? null : movesAtPa,
      missing: [...missing, ...figures.missing],
    };
  });
}

/** The pressure that a cylinder needs to move all the way: its friction, its spring, and what stands behind it [Pa]. */
function toMovingPressure(group: ActuationGroup, returnPressurePa: number | null, figures: Figures): number {
  const { ref, acting, pulls } = group;
  const boreM = figures.take(group.boreM, 'boreM', ref, isPositive);
  const isSpring = acting === 'single';
  const rodM =
    isSpring && pulls !== true ? 0 : figures.take(group.rodM, 'rodM', ref, (rod) => rod >= 0 && !(rod >= boreM));
  const [piston, annulus] = [toArea(boreM), toArea(boreM) - toArea(rodM)];
  const frictionN = figures.take(group.frictionN, 'frictionN', ref, isNotNegative);
  const against = isSpring
    ? figures.take(group.springForceAtContactN ?? null, 'springForceAtContactN', ref, isNotNegative)
    : figures.take(returnPressurePa, 'returnPressurePa', null, isNotNegative) * (pulls === true ? piston : annulus);
  return (frictionN + against) / (pulls === true ? annulus : piston);
}

function toPump(facts: CircuitFacts, airPressurePa: number | null, settingPa: number | null): ActuationInput['pump'] {
  const { powerUnit, components } = facts;
  // Of one that may be elsewhere the slower counts.
  const isBehindValve = mayBeReduced(facts);
  const pump = findOfKind(components, 'pump');
  const lowAirPa =
    airPressurePa === null || powerUnit.plantAirLowPa === null
      ? null
      : Math.min(airPressurePa, powerUnit.plantAirLowPa);
  const atAir = (airPa: number | null): number | null =>
    product(figureOf(pump, 'pistonRatio'), figureOf(pump, 'stallEfficiency'), airPa);
  const highest = figureOf(pump, 'highestPressure');
  const [stall, low] = powerUnit.drive === 'air' ? [atAir(airPressurePa), atAir(lowAirPa)] : [highest, highest];
  // Behind a reducing valve the circuit rises no further than its setting.
  const behindValve = (pressurePa: number | null): number | null =>
    !isBehindValve ? pressurePa : pressurePa === null || settingPa === null ? null : Math.min(pressurePa, settingPa);
  // What several give together nobody has said. Up to where it is shut off an electric pump gives its whole flow, and a reducing valve stands open.
  const isAlone = listOfKind(components, 'pump').length < 2;
  const freeFlow = isAlone ? figureOf(pump, 'freeFlow') : null;
  const halfWidthPa = findSettingHalfWidth(facts);
  const steepestPa = powerUnit.drive === 'electric' ? NEVER_STALLS_PA : stall;
  return {
    freeFlowM3PerS: freeFlow,
    // An air motor runs about as fast as its air presses (common practice, no source).
    ...(powerUnit.drive === 'air' && airPressurePa !== null && airPressurePa > 0 && lowAirPa !== null
      ? { freeFlowLowM3PerS: product(freeFlow, lowAirPa / airPressurePa) }
      : {}),
    stallPressurePa: behindValve(stall),
    stallPressureLowPa: behindValve(low),
    settingLowPa: settingPa === null || halfWidthPa === null ? null : settingPa - halfWidthPa,
    ...(powerUnit.drive === 'electric' || isBehindValve ? { steepestPa } : {}),
  };
}

/** What the operations put upon a support; where one of them is not computed, what was typed counts beside. */
function toSupportLoads(
  { id, highestLoadN }: FixtureElementFacts,
  operations: readonly OperationFacts[],
): readonly LoadByPressure[] | null {
  const computed = operations.map(({ supportLoads = [] }) => supportLoads.filter(({ elementId }) => elementId === id));
  if (computed.every((loads) => loads.length === 0)) return null;
  const typed = { loadN: highestLoadN, atPressurePa: 0, loadPerPaN: 0 };
  return computed.flatMap((loads) =>
    loads.length === 0
      ? [typed]
      : loads.map(({ loadN, atPressurePa, loadPerPaN }) => ({ loadN, atPressurePa, loadPerPaN })),
  );
}

function toOrder(
  { elements, components }: Moved,
  circuitComponents: readonly ComponentFacts[],
  operations: readonly OperationFacts[],
): PartChecksInput['order'] {
  // Before the clamps alone it holds them back until supports have locked.
  const sequence = circuitComponents.filter(
    ({ kind, lineFunctions }) => kind === 'sequence-valve' && lineFunctions.includes('clamp'),
  );
  const opening = sequence.map((valve) => {
    const pressurePa = figureOf(valve, 'openingPressure');
    // It may let oil through as low as that.
    return pressurePa && Math.max(0, pressurePa - (figureOf(valve, 'openingTolerance') ?? 0));
  });
  // Said to be in other lines as well, it may stand before supports too, or be another line's.
  const areBeforeClamps = sequence.every(({ lineFunctions }) => lineFunctions.every((line) => line === 'clamp'));
  const isKnown = areBeforeClamps && opening.length > 0 && opening.every((pressure) => pressure !== null);
  const supports = [
    ...elements
      .filter(({ element: { kind } }) => kind === 'support')
      .map(({ element, group: { ref } }): SupportInput => {
        const loads = toSupportLoads(element, operations);
        return {
          ref,
          group: elements.findIndex((moved) => moved.element === element),
          lockPressurePa: element.leastWorkingPressurePa,
          highestLoadN: element.highestLoadN,
          ratedLoadN: element.ratedForceN,
          ratedPressurePa: element.ratedPressurePa,
          ...(loads === null ? {} : { loads }),
        };
      }),
    ...components
      .filter(({ kind }) => kind === 'work-support')
      .map((component) => ({
        ref: refOf(component),
        group: elements.length + components.indexOf(component),
        lockPressurePa: figureOf(component, 'leastWorkingPressure'),
        highestLoadN: figureOf(component, 'highestLoad'),
        ratedLoadN: figureOf(component, 'loadCapacity'),
        ratedPressurePa: figureOf(component, 'ratedPressure'),
      })),
  ];
  const swingClamps = [
    ...elements.flatMap(({ element: { kind, form, highestFlowM3PerS, armPressurePa } }, group) =>
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
    isLockReckoned: true,
    swingClamps,
    hasSequenceValve: sequence.length > 0,
    sequencePressurePa: isKnown ? Math.min(...opening.map(Number)) : null,
  };
}

/** What was read at the setting in use; under better conditions than the worst, or with the switch set otherwise, it takes no less than that, and may take more. */
function toMeasured(facts: CircuitFacts): MeasuredTimes | null {
  const { inUse, readings } = facts.settings;
  if (readings === null || !isAsRead(facts)) return null;
  const { clampTimeS, contactTimeS, unclampTimeS, timeToleranceS } = readings;
  // Read with another fixture on a circuit of the same station, which took its oil first, it may take longer.
  const isStationAsRead = listOfStation(facts).every(({ isFixtureAsRead = true }) => isFixtureAsRead === true);
  const isSlowest = isStationAsRead && isReadAtSlowest(readings, facts.powerUnit);
  return {
    timeToSwitchS: clampTimeS,
    timeToContactS: contactTimeS,
    isSlowest: isSlowest && isSetPointAsRead(readings, inUse),
    unclampColdS: isSlowest ? unclampTimeS : null,
    unclampS: unclampTimeS,
    halfWidthS: timeToleranceS,
  };
}

/** Of several the oil passes one after the other: the one with the least rated flow, beyond which more is lost, with the losses of all at it. */
function toValve(valves: readonly ComponentFacts[]): ActuationInput['valve'] {
  const [first] = valves;
  if (first === undefined) return null;
  const rated = valves.map((valve) => ({
    flowM3PerS: figureOf(valve, 'ratedFlow'),
    lossPa: figureOf(valve, 'lossAtRatedFlow'),
  }));
  const flows = rated.map(({ flowM3PerS }) => flowM3PerS);
  const ratedFlowM3PerS = flows.includes(null) ? null : Math.min(...flows.map(Number));
  const losses = rated.map(({ flowM3PerS, lossPa }) =>
    rated.length === 1 || lossPa === null
      ? lossPa
      : flowM3PerS === null || ratedFlowM3PerS === null || ratedFlowM3PerS <= 0
        ? null
        : (lossPa * ratedFlowM3PerS) / flowM3PerS,
  );
  const lossAtRatedFlowPa = losses.includes(null) ? null : losses.reduce<number>((sum, loss) => sum + Number(loss), 0);
  return { ref: refOf(first), ratedFlowM3PerS, lossAtRatedFlowPa };
}

/** By what oil that is shut in warms up in each line, at the least: of what nobody has said whether it is, by nothing. */
function toWarmed(facts: CircuitFacts): NonNullable<ActuationInput['warmedPa']> {
  const { trappedTemperatureRiseK: temperatureRiseK, trappedNetExpansionPerK: netExpansionPerK } = facts.circuit;
  const { trappedBulkModulusPa, unclampBulkModulusPa } = facts.circuit;
  const toLeast = (isShutIn: boolean, bulkModulusPa: number | null): number =>
    isShutIn ? toRise({ temperatureRiseK, netExpansionPerK, bulkModulusPa }).span.lo : 0;
  return {
    clamp: toLeast(isSurelyShutIn(facts), trappedBulkModulusPa),
    unclamp: toLeast(unclampLineCanTrap(facts), unclampBulkModulusPa),
  };
}

/** Oil passes through it or moves it, and nobody has said in which line. */
const isUnplaced = ({ kind, lineFunctions }: ComponentFacts): boolean =>
  lineFunctions.length === 0 && !WITHOUT_PRESSURE.has(kind) && !ASIDE.has(kind);
const inClampLine = (component: ComponentFacts): ComponentFacts => ({ ...component, lineFunctions: ['clamp'] });

/** The facts of one circuit as the checks of time, opening, order and reservoir take them. What is not recorded stays null. */
export function toMovementInput(facts: CircuitFacts): MovementInput {
  const { circuit, powerUnit, components, fixture, operations, neighbours } = facts;
  const { settingPa = null, setPointPa = null, airPressurePa = null } = facts.settings.inUse ?? {};
  const reservoir = findOfKind(components, 'reservoir');
  const sensing = findOfKind(components, 'pressure-switch')?.sensing ?? null;
  const ofCircuit = components.filter(({ place }) => place === 'circuit');
  const ofPowerUnit = components.filter(({ place }) => place === 'power-unit');
  const moved = toMoved(fixture, ofCircuit);
  const order = toOrder(moved, ofCircuit, operations);
  const pump = toPump(facts, airPressurePa, settingPa);
  const movingFirst = listMovingFirst(facts, pump.stallPressurePa);
  const measured = toMeasured(facts);
  return {
    actuation: {
      groups: moved.groups,
      pump,
      ...(movingFirst.length === 0 ? {} : { movingFirst }),
      valve: toValve(listOfKind(components, 'directional-valve')),
      ...toLines(components),
      ...(fixture === null ? { isFixtureUnknown: true } : {}),
      unplaced: components.filter(isUnplaced).map(refOf),
      accumulators: components.filter(({ kind }) => kind === 'accumulator').map(refOf),
      oil: toOil(powerUnit),
      returnPressurePa: circuit.returnPressurePa,
      warmedPa: toWarmed(facts),
      switchRisingPa: setPointPa,
      switchAccuracyPa: largestOf(findSwitches(components), 'accuracy'),
      switchAt: sensing,
      isFromFacts: true,
      isReturnFlowAsked: order.swingClamps.length > 0,
      ...(typeof measured?.unclampS === 'number' && measured.unclampColdS === null ? { isUnclampWarmAsked: true } : {}),
    },
    measured,
    switchDelayS: largestOf(findSwitches(components), 'delay'),
    clampTimeAllowedS: circuit.clampTimeAllowedS,
    unclampTimeAllowedS: circuit.unclampTimeAllowedS,
    needsOpenProof: circuit.needsOpenProof,
    hasOpenProof: circuit.hasOpenProof,
    shutWhileUnclamping: listStayingShut(facts, moved.groups).map(refOf),
    piloted: listPiloted(facts, moved.groups).map(({ valve, ...unsaid }) => ({
      ref: valve && refOf(valve),
      pilotRatio: figureOf(valve ?? undefined, 'pilotRatio'),
      ...unsaid,
    })),
    ...(mayStayShut(facts, moved.groups) ? { mayStayShut: true } : {}),
    order: {
      ...order,
      ...(fixture === null ? { isUnknown: true } : {}),
    },
    reservoir: {
      circuits: [{ id: circuit.id, name: circuit.name, fixture, components: ofCircuit }, ...neighbours].map(
        (drawing, index) => ({
          ref: { entity: 'circuit', id: drawing.id, name: drawing.name },
          groups: toMoved(drawing.fixture, drawing.components).groups,
          // What nobody has said where it lies holds oil as well.
          clampLine: [
            ...toPieces(drawing.components, 'clamp'),
            ...toPieces(drawing.components.filter(isUnplaced).map(inClampLine), 'clamp'),
          ],
          // Those of the power unit are filled once, whichever circuits it feeds.
          accumulators: listStores([...drawing.components, ...(index === 0 ? ofPowerUnit : [])]),
        }),
      ),
      usableVolumeM3: figureOf(reservoir, 'usableVolume'),
      freeVolumeM3: figureOf(reservoir, 'freeVolume'),
    },
  };
}
