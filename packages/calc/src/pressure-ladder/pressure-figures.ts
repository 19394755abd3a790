import type {
  BlockedSide,
  FigureRef,
  RatedComponent,
  MissingFigure,
  ProvedOperation,
  PlacedRelief,
  PressureLadderInput,
} from './pressure-ladder.types.js';
import { findReliefBound, listReliefs } from './relief-bounds.js';
import { findThermalRise, findUnclampRise, type RiseFigure } from './thermal-rise.js';
import { add, isExact, known, leastOf, multiply, toSpan, UNBOUNDED, UNKNOWN, ZERO, type Span } from './span.js';

/** A figure that is the worst of several, what governs it and what is missing for it. */
export interface GoverningFigure {
  readonly span: Span;
  readonly subject: FigureRef | null;
  readonly missing: readonly MissingFigure[];
}

export interface RequiredFigure extends GoverningFigure {
  readonly basis: ProvedOperation['requiredBasis'] | 'least-working';
  /** what of it the return line takes, as far as that is known [Pa] */
  readonly backPressurePa: number;
  /** widths by which computed operations may require more, of the one that they make wider than any other; `null`: not known [Pa] */
  readonly spreadsPa: readonly (number | null)[];
  /** an operation that no pressure holds, and in which load case; null: none is known */
  readonly unheld: { readonly ref: FigureRef; readonly loadCase: string } | null;
}

function findSpreads(operations: PressureLadderInput['operations']): readonly (number | null)[] {
  const wide = (spreads: readonly (number | null)[]): number =>
    spreads.reduce<number>((sum, spread) => sum + (known(spread) ?? Infinity), 0);
  return operations
    .map(({ specificForceSpreadPa, frictionSpreadPa }) =>
      [specificForceSpreadPa, frictionSpreadPa].filter((spread) => spread !== undefined),
    )
    .reduce((widest, spreads) => (wide(spreads) > wide(widest) ? spreads : widest), []);
}

/** Largest share of the unclamp line's pressure that is lost to the clamps: its area over that of the clamp line. */
export interface OpposedFigure {
  readonly ratio: Span;
  readonly missing: readonly MissingFigure[];
}

function findOpposed({ opposedSides = [] }: PressureLadderInput): OpposedFigure {
  const missing = opposedSides
    .filter(({ ratio }) => known(ratio) === null)
    .map(({ ref }) => ({ field: 'rodSideAreaRatio', ref }));
  const most = Math.max(0, ...opposedSides.map(({ ratio }) => known(ratio) ?? 0));
  return { ratio: { lo: most, hi: missing.length > 0 ? Infinity : most }, missing };
}

/** What oil that is shut in in the unclamp line rises by, where that line can be blocked while clamps press; not said: from nothing to that. */
function findOpposedRise({ unclampLineBlocked }: PressureLadderInput, rise: RiseFigure): RiseFigure {
  if (unclampLineBlocked === undefined || unclampLineBlocked === false) return { span: ZERO, missing: [] };
  if (unclampLineBlocked || (rise.span.hi === 0 && rise.missing.length === 0)) return rise;
  return {
    span: { lo: 0, hi: rise.span.hi },
    missing: [{ field: 'unclampLineCanBlock', ref: null }, ...rise.missing],
  };
}

/** What stands in the return line, or warms up shut in on that side, works against the clamps: so much more is required at them. */
function findBackPressure(
  input: PressureLadderInput,
  { ratio, missing }: OpposedFigure,
  unclampRise: RiseFigure,
): RiseFigure {
  const { returnPressurePa } = input;
  const rise = findOpposedRise(input, unclampRise);
  const span = multiply(ratio, add(toSpan(returnPressurePa), rise.span));
  if (isExact(span)) return { span, missing: [] };
  const isUnsaid = known(returnPressurePa) === null;
  return {
    span,
    missing: [...missing, ...(isUnsaid ? [{ field: 'returnPressurePa', ref: null }] : []), ...rise.missing],
  };
}

/** Least pressure of the worst operation, never below what an element needs to do its work, with what the return line takes of it. */
function findRequired(input: PressureLadderInput, opposed: OpposedFigure, unclampRise: RiseFigure): RequiredFigure {
  const { operations, leastWorking, isFixtureFitted } = input;
  const missing: MissingFigure[] = [
    ...(operations.length === 0 ? [{ field: 'operations', ref: null }] : []),
    // What moves on the fixture that comes, and what that needs, nobody knows yet.
    ...(isFixtureFitted === false ? [{ field: 'fixture', ref: null }] : []),
  ];
  let most = -Infinity;
  let subject: FigureRef | null = null;
  let basis: RequiredFigure['basis'] = 'typed';
  const take = (figure: number | null, field: string, ref: FigureRef, from: RequiredFigure['basis']): void => {
    const value = known(figure);
    if (value === null) missing.push({ field, ref });
    else if (value > most) {
      most = value;
      subject = ref;
      basis = from;
    }
  };
  let unheld: RequiredFigure['unheld'] = null;
  for (const { requiredPressurePa, ref, requiredBasis, unheldCase } of operations) {
    if (unheldCase === undefined) take(requiredPressurePa, 'requiredPressurePa', ref, requiredBasis);
    else unheld ??= { ref, loadCase: unheldCase };
  }
  for (const { leastWorkingPressurePa, ref } of leastWorking) {
    take(leastWorkingPressurePa, 'leastWorkingPressurePa', ref, 'least-working');
  }
  const back = findBackPressure(input, opposed, unclampRise);
  const lo = (most === -Infinity ? 0 : most) + back.span.lo;
  const isExactly = missing.length === 0 && back.missing.length === 0 && unheld === null;
  return {
    span: { lo, hi: isExactly ? lo : Infinity },
    backPressurePa: back.span.lo,
    subject,
    missing: [...missing, ...back.missing],
    basis,
    unheld,
    spreadsPa: findSpreads(operations),
  };
}

export interface WorkpieceLimit extends GoverningFigure {
  readonly isLimiting: boolean;
  /** what allows the least */
  readonly by: 'workpiece' | 'pad' | 'locator';
}

/** The least of what operations and pads allow the workpiece to bear, and locators themselves. `isLimiting` false: none limits, by statement. */
export function findWorkpieceLimit({ operations, pads = [] }: PressureLadderInput): WorkpieceLimit {
  if (operations.length === 0) {
    const missing = [{ field: 'operations', ref: null }];
    return { span: UNKNOWN, subject: null, missing, isLimiting: true, by: 'workpiece' };
  }
  const missing: MissingFigure[] = [];
  let least = Infinity;
  let subject: FigureRef | null = null;
  let isLimiting = false;
  let by: WorkpieceLimit['by'] = 'workpiece';
  const take = (
    limitPa: number | null,
    ref: FigureRef,
    from: WorkpieceLimit['by'],
    unsaid: readonly string[],
  ): void => {
    isLimiting = true;
    const value = known(limitPa);
    if (value === null) missing.push(...unsaid.map((field) => ({ field, ref })));
    else if (value < least) [least, subject, by] = [value, ref, from];
  };
  for (const { workpieceLimitPa, workpieceNotLimiting, ref } of operations) {
    if (!workpieceNotLimiting) take(workpieceLimitPa, ref, 'workpiece', ['workpieceLimitPa']);
  }
  for (const { limitPa, ref, missing: unsaid } of pads) take(limitPa, ref, 'pad', unsaid);
  for (const { locatorLimitPa, limitingLocator, ref } of operations) {
    if (locatorLimitPa === undefined) continue;
    const locator = limitingLocator === undefined ? ref : { ...ref, name: `${ref.name}: ${limitingLocator}` };
    take(locatorLimitPa, locator, 'locator', ['locatorLimitPa']);
  }
  return { span: { lo: missing.length > 0 ? 0 : least, hi: least }, subject, missing, isLimiting, by };
}

type RatedLine = RatedComponent['lineFunctions'][number];

export const seesLine = ({ lineFunctions }: RatedComponent, lines: readonly RatedLine[]): boolean =>
  lineFunctions.some((line) => lines.includes(line));

export function toCapacity({ ratedPressurePa, deratingRatio }: RatedComponent): number | null {
  const rating = known(ratedPressurePa);
  const derating = known(deratingRatio);
  return rating === null || derating === null ? null : rating * derating;
}

/** The least capacity of the components on some lines. */
export function findWeakest(components: readonly RatedComponent[], lines: readonly RatedLine[]): GoverningFigure {
  const missing: MissingFigure[] = [];
  let least = Infinity;
  let subject: FigureRef | null = null;
  let count = 0;
  for (const component of components) {
    if (!seesLine(component, lines)) continue;
    count += 1;
    const capacity = toCapacity(component);
    if (capacity === null) missing.push({ field: 'ratedPressurePa', ref: component.ref });
    else if (capacity < least) {
      least = capacity;
      subject = component.ref;
    }
  }
  if (count === 0) missing.push({ field: 'components', ref: null });
  return { span: { lo: missing.length > 0 ? 0 : least, hi: least }, subject, missing };
}

/** The least capacity on some lines, of the fixture that comes too. */
export const findWeakestOn = (input: PressureLadderInput, lines: readonly RatedLine[]): GoverningFigure =>
  withFixture(input, findWeakest(input.components, lines));

/** With no fixture fitted nobody knows what the one that comes may bear. */
function withFixture(
  { isFixtureFitted }: PressureLadderInput,
  { span, subject, missing }: GoverningFigure,
): GoverningFigure {
  if (isFixtureFitted !== false) return { span, subject, missing };
  return { span: { lo: 0, hi: span.hi }, subject, missing: [...missing, { field: 'fixture', ref: null }] };
}

export interface HighestFigure {
  readonly span: Span;
  readonly missing: readonly MissingFigure[];
  readonly basis: 'air-driven-pump' | 'highest-pressure' | 'relief-full-flow';
  /** the relief valve where it is what bounds */
  readonly relief: FigureRef | null;
}

const RATIO_UNKNOWN: Span = { lo: 0, hi: 1 };
/** What rubs in a pump, and makes it stall lower, may rub less: the highest is that of its ratio alone. */
const NOTHING_LOST: Span = { lo: 1, hi: 1 };

/** Pressure that the pump could reach with its regulator open or faulty, held back by a relief where there is one. */
function findHeldBack({ pump, isFromFacts }: PressureLadderInput, reliefs: readonly PlacedRelief[]): HighestFigure {
  const missing: MissingFigure[] = [];
  const take = (figure: number | null, field: string, unknown: Span): Span => {
    if (known(figure) === null) missing.push({ field, ref: null });
    return known(figure) === null ? unknown : toSpan(figure);
  };
  let pumpSpan: Span;
  if (pump.drive === 'air') {
    const ratio = take(pump.pistonRatio, 'pistonRatio', UNKNOWN);
    const air = take(pump.airPressureHighPa, 'airPressureHighPa', UNKNOWN);
    // An efficiency above one does not exist: the pump's own ratio bounds it.
    const efficiency =
      isFromFacts === true ? NOTHING_LOST : take(pump.stallEfficiencyRatio, 'stallEfficiencyRatio', RATIO_UNKNOWN);
    pumpSpan = multiply(multiply(ratio, air), efficiency);
  } else {
    pumpSpan = take(pump.highestPressurePa, 'highestPressurePa', UNKNOWN);
  }
  const pumpBasis = pump.drive === 'air' ? 'air-driven-pump' : 'highest-pressure';
  const bound = findReliefBound(reliefs);
  missing.push(...bound.missing);
  const span = leastOf(pumpSpan, bound.span);
  if (bound.relief === null || pumpSpan.hi <= bound.span.hi) return { span, missing, basis: pumpBasis, relief: null };
  return { span, missing, basis: 'relief-full-flow', relief: bound.relief };
}

export const findHighest = (input: PressureLadderInput): HighestFigure =>
  findHeldBack(
    input,
    listReliefs(input).filter(({ relievesSource }) => relievesSource !== false),
  );

/** What is left of it in the clamp line, where reliefs of that line hold it back too. */
const findHighestAtClamps = (input: PressureLadderInput): HighestFigure =>
  findHeldBack(
    input,
    listReliefs(input).filter(({ relievesClamps }) => relievesClamps !== false),
  );

/** Stall pressure of an air-driven pump at an air pressure: what bounds a circuit from above when it is low. */
export function findStall({ pump }: PressureLadderInput, airPressurePa: number | null): Span {
  const ratio = toSpan(pump.pistonRatio);
  const efficiency = known(pump.stallEfficiencyRatio) === null ? RATIO_UNKNOWN : toSpan(pump.stallEfficiencyRatio);
  return multiply(multiply(ratio, toSpan(airPressurePa)), efficiency);
}

/** The most that the pump reaches with the highest plant air, whatever its setting. */
export function findHighestStall(input: PressureLadderInput): Span {
  const { pump, isFromFacts } = input;
  if (pump.drive !== 'air') return toSpan(pump.highestPressurePa);
  if (isFromFacts !== true) return findStall(input, pump.airPressureHighPa);
  return multiply(toSpan(pump.pistonRatio), toSpan(pump.airPressureHighPa));
}

/** The lowest pressure to which the pump surely lifts the circuit: what plant air at its lowest allows where air drives it, else what it is made for. */
function findLowestLift(input: PressureLadderInput): { span: Span; missing: readonly MissingFigure[] } {
  const { pump } = input;
  if (input.isFromFacts !== true) return { span: UNBOUNDED, missing: [] };
  if (pump.drive !== 'air') {
    const isBounded = known(pump.highestPressurePa) !== null;
    return { span: isBounded ? toSpan(pump.highestPressurePa) : UNBOUNDED, missing: [] };
  }
  const fields = ['pistonRatio', 'stallEfficiencyRatio', 'airPressurePa', 'airPressureLowPa'] as const;
  const missing = fields.filter((field) => known(pump[field]) === null).map((field) => ({ field, ref: null }));
  // The regulator gives what it is set to, and no more than comes in.
  const atSet = findStall(input, pump.airPressurePa);
  const atLow = findStall(input, pump.airPressureLowPa);
  return { span: leastOf(atSet, atLow), missing };
}

/** A line that may be blocked while oil presses upon the other side of its cylinders. */
export interface BlockedLine {
  /** largest ratio of areas of the cylinders upon it [1] */
  readonly ratio: Span;
  /** whose highest pressure is upon the other side */
  readonly pressedBy: 'clamps' | 'supply';
  readonly weakest: GoverningFigure;
  /** to which a relief valve of that line holds it; unbounded without one */
  readonly relieved: Span;
  readonly missing: readonly MissingFigure[];
}

/** Without a cylinder's ratio only this is sure: the other side sees at least its pressure. */
const AT_LEAST_ONE: Span = { lo: 1, hi: Infinity };

function findBlocked(
  input: PressureLadderInput,
  line: BlockedSide['line'],
  sides: readonly BlockedSide[],
): BlockedLine {
  const missing: MissingFigure[] = sides
    .filter(({ ratio }) => known(ratio) === null)
    .map(({ ref }) => ({ field: 'rodSideAreaRatio', ref }));
  // What sits beyond all that may block it holds it whatever presses upon it.
  const relieving = listReliefs(input).filter(
    ({ relievesBlockedLine, relievesTrappedOil }) => relievesBlockedLine ?? relievesTrappedOil === true,
  );
  const relieved = line === 'clamp' ? findReliefBound(relieving).span : UNBOUNDED;
  const most = Math.max(...sides.map(({ ratio }) => known(ratio) ?? AT_LEAST_ONE.lo));
  return {
    ratio: { lo: most, hi: missing.length > 0 ? Infinity : most },
    // The one that is blocked sees what presses on the other side of its cylinders.
    pressedBy: line === 'unclamp' ? 'clamps' : 'supply',
    weakest: findWeakestOn(input, [line]),
    relieved,
    missing,
  };
}

/** The lines that may be blocked: the unclamp line while clamping, and the clamp line while unclamping. */
function findBlockedLines(input: PressureLadderInput, areaRatio: number | null): BlockedLine[] {
  const { blockedSides, unclampLineCanBlock, clampLineCanBlock } = input;
  if (blockedSides === undefined) {
    if (!unclampLineCanBlock) return [];
    return [
      {
        ratio: areaRatio === null ? AT_LEAST_ONE : toSpan(areaRatio),
        pressedBy: 'clamps',
        weakest: findWeakestOn(input, ['unclamp']),
        relieved: UNBOUNDED,
        missing: areaRatio === null ? [{ field: 'rodSideAreaRatio', ref: null }] : [],
      },
    ];
  }
  const canBlock = { unclamp: unclampLineCanBlock, clamp: clampLineCanBlock === true };
  return (['unclamp', 'clamp'] as const).flatMap((line) => {
    const sides = blockedSides.filter((side) => side.line === line);
    return canBlock[line] && sides.length > 0 ? [findBlocked(input, line, sides)] : [];
  });
}

/** The figures that several checks and the window stand on. */
export interface PressureFigures {
  readonly input: PressureLadderInput;
  readonly required: RequiredFigure;
  readonly limit: WorkpieceLimit;
  readonly weakest: GoverningFigure;
  readonly blocked: readonly BlockedLine[];
  /** of the source, and of what is left of it in the clamp line where a relief of that holds it back */
  readonly highest: HighestFigure;
  readonly highestAtClamps: HighestFigure;
  readonly opposed: OpposedFigure;
  readonly rise: RiseFigure;
  /** of oil of the unclamp line, shut in for itself; nothing where no oil moves anything back */
  readonly unclampRise: RiseFigure;
  /** largest piston over annulus area of the cylinders on the unclamp line; null: none known */
  readonly areaRatio: number | null;
  /** lowest pressure to which the pump surely lifts the circuit; unbounded where that is not reckoned with */
  readonly lowestLift: { span: Span; missing: readonly MissingFigure[] };
  readonly setting: Span;
  readonly settingHalfWidth: Span;
  readonly switchAccuracy: Span;
  readonly gaugeError: Span;
}

export function findFigures(input: PressureLadderInput): PressureFigures {
  let areaRatio: number | null = null;
  for (const { rodSideAreaRatio } of input.components) {
    const ratio = known(rodSideAreaRatio);
    if (ratio !== null && (areaRatio === null || ratio > areaRatio)) areaRatio = ratio;
  }
  const opposed = findOpposed(input);
  const unclampRise = findUnclampRise(input);
  return {
    input,
    required: findRequired(input, opposed, unclampRise),
    limit: findWorkpieceLimit(input),
    weakest: findWeakestOn(input, ['supply', 'clamp', 'unclamp']),
    blocked: findBlockedLines(input, areaRatio),
    highest: findHighest(input),
    opposed,
    highestAtClamps: findHighestAtClamps(input),
    rise: findThermalRise(input),
    unclampRise,
    areaRatio,
    lowestLift: findLowestLift(input),
    setting: toSpan(input.settingPa),
    settingHalfWidth: toSpan(input.settingHalfWidthPa),
    switchAccuracy: toSpan(input.switchAccuracyPa),
    gaugeError: toSpan(input.gaugeErrorPa),
  };
}

type SettingField =
  'setPointPa' | 'resetPointPa' | 'switchAccuracyPa' | 'settingPa' | 'settingHalfWidthPa' | 'gaugeErrorPa';

/** Those of a circuit's settings that are not known, as missing entries. */
export function listUnknown(
  settings: Readonly<Record<SettingField, number | null>>,
  fields: readonly SettingField[],
): MissingFigure[] {
  return fields.filter((field) => known(settings[field]) === null).map((field) => ({ field, ref: null }));
}
