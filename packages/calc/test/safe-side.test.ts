import type { CircuitFacts } from '../src/circuit-facts/circuit-facts.types.js';
import { DIRECTIONS, STANDS_IN_WITHOUT } from '../src/circuit-facts/directions.js';
import { proveFacts } from '../src/circuit-facts/prove-facts.js';
import type { CheckCode } from '../src/circuit-checks/checks.js';
import { CIRCUIT_FIGURES } from '../src/figures/circuit-figures.js';
import type { Direction, Figure } from '../src/figures/figure.types.js';
import { unsaidOf } from '../src/figures/read-figures.js';
import type { CheckStatus, PressureLadderResult } from '../src/pressure-ladder/pressure-ladder.types.js';
import { aRandomCircuit, seeded } from './facts-builder.js';

const CIRCUITS = 1_000;
/** Figures tried of each. */
const TRIED = 4;

type Figures = Record<string, unknown>;
/** A figure of a circuit: where it stands, and which way it can only make things worse. */
interface FactOfCircuit {
  name: string;
  holder: Figures;
  field: string;
  direction: Direction;
}

function* figuresOf(name: string, holder: object | null, directions: object | undefined): Generator<FactOfCircuit> {
  if (holder === null || directions === undefined) return;
  for (const [field, direction] of Object.entries(directions) as [string, Direction][]) {
    if (field in holder) yield { name: `${name}.${field}`, holder: holder as Figures, field, direction };
  }
}

/** What a valve does decides which of two things happens; the control sees it of every circuit. */
const OF_CONTROL = { valveBehaviour: 'either', isCheckHeld: 'either' } as const;

/** Every figure of a circuit of which a direction is declared. */
function* listFigures(facts: CircuitFacts): Generator<FactOfCircuit> {
  const { circuit, powerUnit, components, fixture, operations, settings, control } = facts;
  yield* figuresOf('circuit', circuit, DIRECTIONS.circuit);
  yield* figuresOf('powerUnit', powerUnit, DIRECTIONS.powerUnit);
  yield* figuresOf('settings', settings.inUse, DIRECTIONS.settings);
  yield* figuresOf('readings', settings.readings, DIRECTIONS.readings);
  const ofKind: Readonly<Record<string, object>> = DIRECTIONS.component;
  for (const { kind, figures } of components) yield* figuresOf(`component ${kind}`, figures, ofKind[kind]);
  for (const component of components) yield* figuresOf(`placed ${component.kind}`, component, DIRECTIONS.placed);
  const ofControl = control.circuits.filter(({ id }) => id === circuit.id);
  for (const controlled of ofControl) yield* figuresOf('control', controlled, OF_CONTROL);
  for (const neighbour of facts.neighbours) yield* figuresOf('neighbour', neighbour, DIRECTIONS.neighbour);
  yield* figuresOf('fixture', fixture, DIRECTIONS.fixture);
  for (const element of fixture?.elements ?? []) {
    yield* figuresOf(`element ${element.kind}`, element, DIRECTIONS.element[element.kind]);
  }
  for (const operation of operations) {
    yield* figuresOf('operation', operation, DIRECTIONS.operation);
    for (const load of operation.supportLoads ?? []) yield* figuresOf('support load', load, DIRECTIONS.supportLoad);
  }
  yield* figuresOf('machine', control.machine, DIRECTIONS.machine);
  const ownSignals = control.signals.filter(({ circuitId }) => circuitId === circuit.id);
  for (const signal of ownSignals) yield* figuresOf('signal', signal, DIRECTIONS.signal);
  const ids = ownSignals.map(({ id }) => id);
  for (const wire of control.wires.filter(({ signalId }) => ids.includes(signalId))) {
    yield* figuresOf('wire', wire, DIRECTIONS.wire);
  }
}

/** Fails and not proven are alike: neither lets anybody work. */
const RANK: Record<CheckStatus, number> = { fails: 0, unproven: 0, marginal: 1, holds: 2, 'not-applicable': 2 };
const EPSILON = 1e-9;

/** Where a proof reads better than another one. */
function listBetter(before: PressureLadderResult, after: PressureLadderResult, isTakenAway: boolean): string[] {
  return after.checks.flatMap((check, index) => {
    const was = before.checks[index];
    if (was === undefined) return [`${check.code} is new`];
    const better: string[] = [];
    if (RANK[check.status] > RANK[was.status]) better.push(`${check.code}: ${was.status} became ${check.status}`);
    if (!isTakenAway && was.status === 'fails' && check.status === 'unproven')
      better.push(`${check.code}: fails became unproven`);
    const isOther =
      check.reason !== was.reason || check.governing !== was.governing || check.subject?.name !== was.subject?.name;
    if (isTakenAway || isOther) return better;
    const [margin, former] = [check.stated?.marginPa ?? null, was.stated?.marginPa ?? null];
    if (margin !== null && former !== null && margin > former + EPSILON * Math.abs(former) + 1e-3) {
      better.push(`${check.code}: margin ${former} became ${margin}`);
    }
    // What fails nominally may hold by an error: the wider it is, the more often.
    const likely = was.probability ?? 0;
    if (likely >= 0.5 && check.probability !== null && check.probability > likely + 1e-6) {
      better.push(`${check.code}: probability ${was.probability} became ${check.probability}`);
    }
    return better;
  });
}

/** Of what is always said nothing can be taken away. */
const ALWAYS_SAID = [
  ...Object.entries<Figure>(CIRCUIT_FIGURES).flatMap(([name, figure]) =>
    unsaidOf(figure) === null ? [] : [`circuit.${name}`],
  ),
  ...['element clamp.quantity', 'element support.quantity'],
];
const isKept = ({ name }: FactOfCircuit): boolean => STANDS_IN_WITHOUT.has(name) || ALWAYS_SAID.includes(name);

/** The value a little, or a lot, further on its bad way; undefined: there is none. */
function toWorse(value: unknown, direction: Direction, random: () => number): unknown {
  if (typeof value === 'number' && (direction === 'lower' || direction === 'higher')) {
    const share = random() < 0.5 ? 0.02 : 0.5;
    return direction === 'lower' ? value * (1 - share) : value * (1 + share);
  }
  if (typeof value === 'boolean' && (direction === 'true' || direction === 'false')) {
    return value === (direction === 'true') ? undefined : direction === 'true';
  }
  return undefined;
}

function pickSome(figures: readonly FactOfCircuit[], random: () => number): FactOfCircuit[] {
  return Array.from({ length: TRIED }, () => figures[Math.floor(random() * figures.length)] as FactOfCircuit);
}

function proveWith({ holder, field }: FactOfCircuit, value: unknown, facts: CircuitFacts): PressureLadderResult {
  const had = holder[field];
  if (value === undefined) delete holder[field];
  else holder[field] = value;
  try {
    return proveFacts(facts);
  } finally {
    holder[field] = had;
  }
}

/**
 * What may make one check worse and another better still only hurts some: which way, and which. A setting and an air pressure are moved off
 * what was read, after which a measured time counts no more: checks 5, 6 and 12 are not among theirs.
 */
const HURTS_SOME: readonly { name: string; direction: 'lower' | 'higher'; checks: readonly CheckCode[] }[] = [
  { name: 'circuit.trappedBulkModulusPa', direction: 'higher', checks: ['highest-within-rating', 'workpiece-limit', 'order-and-speed'] }, // prettier-ignore
  // A higher one is nearer to where an air-driven pump stalls, which check 3 asks as well.
  { name: 'settings.settingPa', direction: 'higher', checks: ['highest-within-rating', 'workpiece-limit'] },
  { name: 'settings.settingPa', direction: 'lower', checks: ['no-nuisance-stop'] },
  { name: 'settings.setPointPa', direction: 'higher', checks: ['no-nuisance-stop'] },
  { name: 'settings.resetPointPa', direction: 'lower', checks: ['holds-workpiece'] },
  { name: 'settings.resetPointPa', direction: 'higher', checks: ['shared-supply'] },
  { name: 'settings.airPressurePa', direction: 'lower', checks: ['no-nuisance-stop'] },
  { name: 'component pump.stallEfficiency', direction: 'lower', checks: ['no-nuisance-stop', 'shared-supply', 'holds-without-supply'] }, // prettier-ignore
  { name: 'component pump.freeFlow', direction: 'lower', checks: ['unclamping'] },
  { name: 'element clamp.springForceAtContactN', direction: 'higher', checks: ['unclamping', 'reservoir'] },
];

interface Circuit {
  readonly seed: number;
  readonly facts: CircuitFacts;
  readonly before: PressureLadderResult;
  readonly figures: readonly FactOfCircuit[];
}

/** How often which figure was moved, and what it helped that it can only hurt. */
function tryHurting({ seed, facts, before, figures }: Circuit, moved: Map<string, number>): string[] {
  const random = seeded(seed + 2_000);
  return HURTS_SOME.flatMap(({ name, direction, checks }) => {
    const figure = figures.find((one) => one.name === name && one.holder[one.field] !== null);
    if (figure === undefined) return [];
    moved.set(`${name} ${direction}`, (moved.get(`${name} ${direction}`) ?? 0) + 1);
    const after = proveWith(figure, toWorse(figure.holder[figure.field], direction, random), facts);
    return listBetter(before, after, false)
      .filter((better) => checks.some((code) => better.startsWith(`${code}:`)))
      .map((better) => `${name} (${direction}) of circuit ${seed}: ${better}`);
  });
}

function tryWorse({ seed, facts, before, figures }: Circuit, found: Map<string, string>): void {
  const random = seeded(seed);
  for (const figure of pickSome(figures, random)) {
    const value = toWorse(figure.holder[figure.field], figure.direction, random);
    if (value === undefined) continue;
    for (const better of listBetter(before, proveWith(figure, value, facts), false)) {
      found.set(`${figure.name} (${figure.direction}): ${better.split(':')[0] ?? ''}`, `circuit ${seed}: ${better}`);
    }
  }
}

function tryWithout({ seed, facts, before, figures }: Circuit, found: Map<string, string>): void {
  for (const figure of pickSome(figures, seeded(seed + 1_000))) {
    if (figure.holder[figure.field] === null || isKept(figure)) continue;
    const isOfComponent = figure.name.startsWith('component');
    const after = proveWith(figure, isOfComponent ? undefined : null, facts);
    for (const better of listBetter(before, after, true)) {
      found.set(`${figure.name}: ${better.split(':')[0] ?? ''}`, `circuit ${seed}: ${better}`);
    }
  }
}

/** Each circuit once for all that is tried of it: what its control can do takes longest, and is found out for the first proof of it alone. */
function tryAll() {
  const [hurting, moved] = [[] as string[], new Map<string, number>()];
  const [worse, without] = [new Map<string, string>(), new Map<string, string>()];
  for (let seed = 0; seed < CIRCUITS; seed += 1) {
    const facts = aRandomCircuit(seed);
    const circuit = { seed, facts, before: proveFacts(facts), figures: [...listFigures(facts)] };
    if (seed < CIRCUITS / 8) hurting.push(...tryHurting(circuit, moved));
    tryWorse(circuit, worse);
    tryWithout(circuit, without);
  }
  return { hurting, moved, worse, without };
}

describe('the safe side', () => {
  const { hurting, moved, worse, without } = tryAll();

  it('a figure that helps some checks and hurts others helps none of those that it can only hurt', () => {
    expect(hurting).toEqual([]);
    for (const { name, direction } of HURTS_SOME) {
      expect(moved.get(`${name} ${direction}`)).toBeGreaterThan(20);
    }
  });

  it('a figure moved the way that can only make things worse never makes anything read better', () => {
    expect([...worse]).toEqual([]);
  });

  it('a figure taken away never makes anything read better', () => {
    expect([...without]).toEqual([]);
  });

  it('every figure of the circuits that are tried has its direction', () => {
    const named = new Set<string>();
    for (let seed = 0; seed < 50; seed += 1) for (const { name } of listFigures(aRandomCircuit(seed))) named.add(name);
    const facts = aRandomCircuit(1);
    const undeclared = [
      ...Object.keys(facts.circuit).filter((field) => !named.has(`circuit.${field}`)),
      ...Object.keys(facts.control.machine).filter((field) => !named.has(`machine.${field}`)),
      ...Object.keys(facts.powerUnit).filter((field) => !named.has(`powerUnit.${field}`)),
    ];
    expect(undeclared).toEqual(['id', 'name', 'stationId', 'id', 'name', 'behaviour', 'drive']);
    for (let seed = 0; seed < 50; seed += 1) {
      for (const { kind, figures } of aRandomCircuit(seed).components) {
        for (const figure of Object.keys(figures)) expect([...named]).toContain(`component ${kind}.${figure}`);
      }
    }
  });
});
