import type { CircuitFacts, ComponentFacts, ComponentKind } from './circuit-facts.types.js';
import { mayBeIn } from './component-figures.js';
import { isAsRead } from './reading-conditions.js';

/**
 * Whether something between supply and clamps shuts them off: a check valve, said or fitted, or a valve that springs to the middle. The
 * pump's own outlet check is before the supply line and shuts off nothing. null: nobody has said.
 */
export function isShutOff(facts: CircuitFacts): boolean | null {
  const { circuit, components } = facts;
  const isCentred = isCentredShut(facts);
  if (circuit.isCheckHeld === true || hasCheckValve(components) || isCentred === true) return true;
  return circuit.isCheckHeld === null || isCentred === null ? null : false;
}

/** A valve that springs to the middle shuts both lines there, for all that anybody has said; null: nobody has said what it does. */
function isCentredShut({ circuit, control }: CircuitFacts): boolean | null {
  const valve = control.circuits.find(({ id }) => id === circuit.id)?.valveBehaviour ?? null;
  return valve === null ? null : valve === 'double-centred';
}

const listCheckValves = (components: readonly ComponentFacts[]): readonly ComponentFacts[] =>
  components.filter(({ kind, place }) => kind === 'check-valve' && place === 'circuit');

/** A check valve on the way from supply to clamps; one in the tank line or the unclamp line shuts off nothing that holds. */
function hasCheckValve(components: readonly ComponentFacts[]): boolean {
  const aside: ReadonlySet<string> = new Set(['tank', 'unclamp']);
  return listCheckValves(components).some(
    ({ lineFunctions }) => !(lineFunctions.length > 0 && lineFunctions.every((line) => aside.has(line))),
  );
}

/** A check valve that surely stands on that way; one of which nobody has said where it sits keeps no oil from a burst hose. */
const hasSureCheckValve = (components: readonly ComponentFacts[]): boolean =>
  hasCheckValve(components.filter(({ lineFunctions }) => lineFunctions.length > 0));

/**
 * Whether the oil of the clamps flows out of a hose that bursts. One of the clamp line may lie beyond any check valve, and so may one of a line that
 * nobody has said. One of the supply lies before what holds the clamps in their own line; beside a check valve of the supply line it is as somebody
 * has said, and the power unit's own hoses lie before that. null: nobody has said.
 */
export function emptiesClamps(hose: ComponentFacts, { circuit, components }: CircuitFacts): boolean | null {
  if (mayBeIn(hose, 'clamp')) return true;
  if (!hose.lineFunctions.includes('supply')) return false;
  const isBeyondSupply = listCheckValves(components).some(
    ({ lineFunctions }) => lineFunctions.includes('clamp') && !lineFunctions.includes('supply'),
  );
  if (isBeyondSupply) return false;
  if (!hasSureCheckValve(components) && circuit.isCheckHeld !== true) return true;
  return hose.place === 'power-unit' ? false : (hose.isBeyondShutOff ?? null);
}

type Reducing = Pick<CircuitFacts, 'circuit' | 'components'>;
const listReducing = ({ components }: Reducing): readonly ComponentFacts[] =>
  components.filter(({ kind, place }) => kind === 'reducing-valve' && place === 'circuit');

/** A reducing valve surely stands before the clamps: somebody has said so, or one is fitted on the way to them. One of the unclamp line or the tank line holds nothing back there. */
export const isReduced = (facts: Reducing): boolean =>
  facts.circuit.hasReducingValve ||
  listReducing(facts).some(({ lineFunctions }) => lineFunctions.includes('supply') || lineFunctions.includes('clamp'));

/** It does, or one is fitted of which nobody has said where. */
export const mayBeReduced = (facts: Reducing): boolean =>
  isReduced(facts) || listReducing(facts).some(({ lineFunctions }) => lineFunctions.length === 0);

/**
 * Whether a reducing valve shuts oil in that warms up behind it: one of two ports does, one of three lets it out to the tank. Oil at its
 * setting goes back through either when the supply falls. null: nobody has said.
 */
function isShutInBehindReducing({ circuit, components }: Pick<CircuitFacts, 'circuit' | 'components'>): boolean | null {
  if (!mayBeReduced({ circuit, components })) return false;
  if (circuit.reducingValveRelieves === true) return false;
  return circuit.reducingValveRelieves === false ? true : null;
}

/**
 * Whether something in the clamp line itself may shut the clamps off from what else is in it: a check valve there, or one of which nobody has
 * said where it is; the coupling of a pallet that is at times without supply; a reducing valve, wherever that sits.
 */
export const mayBeShutInClampLine = (facts: CircuitFacts): boolean =>
  mayHoldInClampLine(facts) || facts.circuit.isDecoupled !== false || isShutInBehindReducing(facts) !== false;

/** A check valve there, or one of which nobody has said where it is, may hold the clamps while what is before it has lost its pressure. */
export function mayHoldInClampLine({ circuit, components }: CircuitFacts): boolean {
  const checkValves = listCheckValves(components);
  if (checkValves.some((valve) => mayBeIn(valve, 'clamp'))) return true;
  const isElsewhere = checkValves.some(({ lineFunctions }) => lineFunctions.includes('supply'));
  return circuit.isCheckHeld !== false && !isElsewhere;
}

/**
 * A pump that is driven by air has check valves at its outlet, which shut all oil after it in whenever it stands; behind a reducing valve that may
 * have three ports it may find a way out.
 */
const isShutInBehindPump = ({ circuit, powerUnit, components }: CircuitFacts): boolean =>
  powerUnit.drive === 'air' && !(isReduced({ circuit, components }) && circuit.reducingValveRelieves !== false);

/** Nothing shuts oil in but the pump: it is open from there to the clamps. */
export const isOpenToPump = (facts: CircuitFacts): boolean =>
  facts.circuit.canTrap === false &&
  facts.circuit.isDecoupled === false &&
  isShutOff(facts) === false &&
  !mayBeReduced(facts);

/**
 * Not said is taken as "it can": the figures are then asked for. A pallet that is decoupled, a check valve, a valve that springs to the middle, a
 * reducing valve that lets nothing out, and an air-driven pump, shut oil in; of those that nobody has spoken of it is not known.
 */
export function toTrapping(facts: CircuitFacts): { canTrap: boolean; unsaid?: readonly string[] } {
  const { circuit, components } = facts;
  const { canTrap, isDecoupled, isCheckHeld } = circuit;
  const isBehindReducing = isShutInBehindReducing(facts);
  const isCentred = isCentredShut(facts);
  const doesShutIn =
    isDecoupled === true ||
    isCheckHeld === true ||
    isCentred === true ||
    isBehindReducing === true ||
    hasCheckValve(components) ||
    isShutInBehindPump(facts);
  if (canTrap !== false || doesShutIn) return { canTrap: true };
  const unsaid = [
    ...(isDecoupled === null ? ['isDecoupled'] : []),
    ...(isCheckHeld === null ? ['isCheckHeld'] : []),
    ...(isBehindReducing === null ? ['reducingValveRelieves'] : []),
    ...(isCentred === null ? ['valveBehaviour'] : []),
  ];
  return unsaid.length === 0 ? { canTrap: false } : { canTrap: true, unsaid };
}

/** Oil of the clamp line is shut in, and nothing that would decide it has been left unsaid. */
export function isSurelyShutIn(facts: CircuitFacts): boolean {
  const { canTrap, unsaid = [] } = toTrapping(facts);
  return canTrap && unsaid.length === 0;
}

/** What shuts a line, or throttles what comes back through it. */
const SHUTTING: ReadonlySet<ComponentKind> = new Set(['quick-coupling', 'check-valve', 'flow-control-valve']);

/** Something in a line shuts or throttles it, or the tank line that it goes on to as oil comes back. */
const isShutIn = (
  line: 'clamp' | 'unclamp',
  components: readonly ComponentFacts[],
  shutting: ReadonlySet<ComponentKind> = SHUTTING,
): boolean =>
  components.some(
    (component) =>
      shutting.has(component.kind) &&
      ((component.place === 'circuit' && mayBeIn(component, line)) || isInReturn(component)),
  );

/** A check valve of the tank line lets through what goes to the tank; a coupling that is not mated, and a throttle, do not. */
const isInReturn = (component: ComponentFacts): boolean =>
  component.kind !== 'check-valve' && mayBeIn(component, 'tank');

/** In the clamp line they keep what is before them apart from what the clamps have. */
const PARTING: ReadonlySet<ComponentKind> = new Set(['reducing-valve', 'sequence-valve', 'quick-coupling']);

/**
 * Something may stand between one end of the clamp line and the other: what holds the clamps, a reducing valve, or a coupling, which a pallet has
 * that is at times without supply.
 */
export const isClampLineParted = (facts: CircuitFacts): boolean =>
  mayHoldInClampLine(facts) ||
  facts.circuit.isDecoupled !== false ||
  facts.components.some(
    (component) => PARTING.has(component.kind) && component.place === 'circuit' && mayBeIn(component, 'clamp'),
  );

/** What is open again when nothing flows shuts no oil in to warm up. */
const HOLDING: ReadonlySet<ComponentKind> = new Set(['quick-coupling', 'check-valve']);
/** Oil of the unclamp line can be shut in: somebody has said so or nobody has said, or what is in it shuts it. */
export const unclampLineCanTrap = (facts: CircuitFacts): boolean =>
  facts.circuit.unclampLineCanBlock !== false ||
  facts.circuit.isDecoupled === true ||
  isCentredShut(facts) === true ||
  isShutIn('unclamp', facts.components, HOLDING);

/** What nobody has said, and would have to, before it is known that oil of the unclamp line is shut in at no time. */
export const unsaidOfUnclampLine = (facts: CircuitFacts): readonly string[] => [
  ...(facts.circuit.isDecoupled === null ? ['isDecoupled'] : []),
  ...(isCentredShut(facts) === null ? ['valveBehaviour'] : []),
];

/** As somebody has said; where a coupling or a check valve is in it after all, or the valve's middle may shut it, that it cannot be blocked is not known. */
export function isUnclampLineBlocked(facts: CircuitFacts): boolean | null {
  const { unclampLineCanBlock: answer } = facts.circuit;
  const mayBe = isCentredShut(facts) !== false || isShutIn('unclamp', facts.components, HOLDING);
  return answer === false && mayBe ? null : answer;
}

/** Whatever somebody has said, what is in it can block it; a pallet that leaves its supply, and a valve in its middle, have both lines shut. */
export const unclampLineCanBlock = (facts: CircuitFacts): boolean =>
  facts.circuit.unclampLineCanBlock !== false ||
  facts.circuit.isDecoupled !== false ||
  isCentredShut(facts) !== false ||
  isShutIn('unclamp', facts.components);

/** Nothing blocks the clamp line: somebody has said so of the lines, and nothing that is fitted does. */
export const isClampLineOpen = (facts: CircuitFacts): boolean =>
  facts.circuit.unclampLineCanBlock === false && !isClampLineShut(facts);

/** Something fitted in the clamp line, or in the tank line after it, blocks it or throttles what comes back. */
const isClampLineShut = ({ components }: CircuitFacts): boolean => isShutIn('clamp', components);

/** A check valve that is not piloted open, a coupling, and what throttles the oil that comes back, block it; what nobody has said can. */
export const clampLineCanBlock = (facts: CircuitFacts): boolean =>
  facts.circuit.unclampLineCanBlock !== false ||
  facts.circuit.isDecoupled !== false ||
  isShutOff(facts) !== false ||
  isClampLineShut(facts);

type Moving = readonly { acting: 'single' | 'double' | null }[];

/** Springs push all of it back, and nothing is in an unclamp line whose pressure could open a check valve. */
const nothingOpens = ({ components }: CircuitFacts, moving: Moving): boolean =>
  moving.length > 0 &&
  moving.every(({ acting }) => acting === 'single') &&
  !components.some(({ place, lineFunctions }) => place === 'circuit' && lineFunctions.includes('unclamp'));

/** Check valves in a clamp line that nothing opens: the oil of the clamps does not come back through them. */
export const listStayingShut = (facts: CircuitFacts, moving: Moving): readonly ComponentFacts[] =>
  nothingOpens(facts, moving)
    ? listCheckValves(facts.components).filter(({ lineFunctions }) => lineFunctions.includes('clamp'))
    : [];

/**
 * Check valves that a pilot has to open, before the oil of the clamps comes back through them: in the clamp line, or in a line that nobody has said.
 * null among them: one is said to hold the clamps, or nobody has said that none does, and none is fitted.
 */
export function listPiloted(
  facts: CircuitFacts,
  moving: Moving,
): readonly { valve: ComponentFacts | null; unsaid?: string }[] {
  const { isCheckHeld } = facts.circuit;
  if (nothingOpens(facts, moving)) return [];
  if (!hasCheckValve(facts.components)) {
    if (isCheckHeld === false) return [];
    return [{ valve: null, ...(isCheckHeld === null ? { unsaid: 'isCheckHeld' } : {}) }];
  }
  return listCheckValves(facts.components)
    .filter((valve) => mayBeIn(valve, 'clamp'))
    .map((valve) => ({ valve }));
}

/** They let oil back where they have a check valve of their own. */
const ONE_WAY: ReadonlySet<ComponentKind> = new Set(['sequence-valve', 'reducing-valve']);

/**
 * What nothing opens may be in the way back, and whoever read a time saw it open: a check valve is said to hold the clamps and none is
 * fitted, so that nobody knows in which line it is; a sequence valve or a reducing valve in the clamp line lets oil back where it has a check valve of its own.
 */
export function mayStayShut(facts: CircuitFacts, moving: Moving): boolean {
  const { circuit, components, settings } = facts;
  if (!nothingOpens(facts, moving)) return false;
  if (settings.readings !== null && settings.readings.unclampTimeS !== null && isAsRead(facts)) return false;
  const isOneWay = components.some(
    ({ kind, place, lineFunctions }) => ONE_WAY.has(kind) && place === 'circuit' && lineFunctions.includes('clamp'),
  );
  return isOneWay || (circuit.isCheckHeld === true && !hasCheckValve(components));
}
