/** Where oil can be shut in, and what it rises by as it warms up, worked out by hand a second time. */
import type { CircuitFacts } from '../../src/index.js';
import { times } from './plain-verdict.js';

type Component = CircuitFacts['components'][number];
/** Where nobody has said a line, it is taken for each: the worst. */
export const isIn = ({ lineFunctions }: Component, line: Component['lineFunctions'][number]): boolean =>
  lineFunctions.includes(line) || lineFunctions.length === 0;
/** A check valve on the way from the supply to the clamps, said or fitted. */
export function isBehindCheck(facts: CircuitFacts): boolean {
  const fitted = facts.components.filter(({ kind, place }) => kind === 'check-valve' && place === 'circuit');
  const onTheWay = fitted.filter(
    ({ lineFunctions: lines }) => lines.length === 0 || lines.includes('supply') || lines.includes('clamp'),
  );
  return facts.circuit.isCheckHeld === true || onTheWay.length > 0;
}

/** Before the clamps for certain, or as it may be: of the tank line and the unclamp line alone nothing is held back there. */
export const isReduced = ({ circuit, components }: CircuitFacts, atMost = false): boolean =>
  circuit.hasReducingValve ||
  components.some(
    ({ kind, place, lineFunctions: lines }) =>
      kind === 'reducing-valve' &&
      place === 'circuit' &&
      (lines.length === 0 ? atMost : lines.some((line) => line === 'supply' || line === 'clamp')),
  );

/** A reducing valve of two ports shuts its circuit's oil in as that warms up; null: nobody has said how many it has. */
export function isShutBehindReducing(facts: CircuitFacts): boolean | null {
  const { circuit } = facts;
  if (!isReduced(facts, true) || circuit.reducingValveRelieves === true) return false;
  return circuit.reducingValveRelieves === false ? true : null;
}

/** An air-driven pump lets nothing back through its outlet; only a third port that may be there lets anything out. */
const isBehindPump = (facts: CircuitFacts): boolean =>
  facts.powerUnit.drive === 'air' && !(facts.circuit.reducingValveRelieves !== false && isReduced(facts));

/** In the middle a valve shuts both lines; of one that nobody has described it is not known. */
export function isShutByValve({ circuit, control }: CircuitFacts): boolean | null {
  const valve = control.circuits.find(({ id }) => id === circuit.id)?.valveBehaviour;
  if (valve === undefined || valve === null) return null;
  return valve === 'double-centred';
}

/** The pump's outlet is the one thing that shuts oil in. */
export function isBehindPumpAlone(facts: CircuitFacts): boolean {
  const { canTrap, isDecoupled, isCheckHeld } = facts.circuit;
  const isHeld = isCheckHeld !== false || isBehindCheck(facts) || isShutByValve(facts) !== false;
  return canTrap === false && isDecoupled === false && !isHeld && !isReduced(facts, true);
}

/** Oil can be shut in to warm up: behind a check valve, such a reducing valve or such a pump, or in a circuit that stands without supply. */
export function shutsIn(facts: CircuitFacts): boolean | null {
  const { canTrap, isDecoupled, isCheckHeld } = facts.circuit;
  const behindReducing = isShutBehindReducing(facts);
  const byValve = isShutByValve(facts);
  if ([canTrap, isDecoupled, behindReducing, byValve].includes(true)) return true;
  if (isBehindCheck(facts) || isBehindPump(facts)) return true;
  return [canTrap, isDecoupled, isCheckHeld, behindReducing, byValve].includes(null) ? null : false;
}

/** Warm-up of shut-in oil: net expansion * modulus of oil and walls together * rise. */
export function warmUp(facts: CircuitFacts): number | null {
  const { trappedNetExpansionPerK, trappedBulkModulusPa, trappedTemperatureRiseK } = facts.circuit;
  if (trappedTemperatureRiseK !== null && trappedTemperatureRiseK <= 0) return 0;
  return times(times(trappedNetExpansionPerK, trappedBulkModulusPa), trappedTemperatureRiseK);
}

/** The same of the unclamp line, whose walls give way otherwise. */
export function warmUpOfUnclamp(facts: CircuitFacts): number | null {
  const { trappedNetExpansionPerK, unclampBulkModulusPa, trappedTemperatureRiseK } = facts.circuit;
  if (trappedTemperatureRiseK !== null && trappedTemperatureRiseK <= 0) return 0;
  return times(times(trappedNetExpansionPerK, trappedTemperatureRiseK), unclampBulkModulusPa);
}

/** Something in a line shuts it or throttles what comes back: whatever was said of it. */
export const isShut = (
  { components }: CircuitFacts,
  line: 'clamp' | 'unclamp',
  kinds: readonly string[] = ['quick-coupling', 'check-valve', 'flow-control-valve'],
): boolean =>
  components.some(
    (component) =>
      kinds.includes(component.kind) &&
      ((component.place === 'circuit' && isIn(component, line)) ||
        (component.kind !== 'check-valve' && isIn(component, 'tank'))),
  );
/** Said, unless a coupling or a check valve in that line contradicts it: then nobody knows. */
export const whetherUnclampBlocks = (facts: CircuitFacts): boolean | null =>
  facts.circuit.unclampLineCanBlock === false &&
  (isShutByValve(facts) !== false || isShut(facts, 'unclamp', ['quick-coupling', 'check-valve']))
    ? null
    : facts.circuit.unclampLineCanBlock;
export const unclampLineCanBlock = (facts: CircuitFacts): boolean =>
  facts.circuit.unclampLineCanBlock !== false ||
  facts.circuit.isDecoupled !== false ||
  isShutByValve(facts) !== false ||
  isShut(facts, 'unclamp');

/** Its oil can warm up shut in: a throttle is open when nothing flows. */
export const unclampLineCanTrap = (facts: CircuitFacts): boolean =>
  facts.circuit.unclampLineCanBlock !== false ||
  facts.circuit.isDecoupled === true ||
  isShutByValve(facts) === true ||
  isShut(facts, 'unclamp', ['quick-coupling', 'check-valve']);

/** The clamp line can be shut while oil presses on the unclamp side: nobody has said that no line can, or something shuts the clamps off. */
export function clampLineCanBlock(facts: CircuitFacts): boolean {
  const { unclampLineCanBlock, isDecoupled, isCheckHeld } = facts.circuit;
  const isOpen = !isBehindCheck(facts) && isShutByValve(facts) === false && isCheckHeld === false;
  return !(unclampLineCanBlock === false && isDecoupled === false && isOpen && !isShut(facts, 'clamp'));
}
