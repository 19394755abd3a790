import type { FigureRef, MissingFigure } from '../pressure-ladder/pressure-ladder.types.js';
import type { ThreeViews } from '../pressure-ladder/judge-check.js';
import { add, mostOf, multiply, toSpan, ZERO, type Span } from '../pressure-ladder/span.js';
import type { CheckedTime, CircuitCheck } from './circuit-checks.types.js';
import { listOfPilots, type PilotedValve, type PilotPressures } from './pilot-pairs.js';
import {
  asCapacity,
  asDemand,
  factPair,
  judgePairs,
  listMissing,
  same,
  toTimeSpan,
  unknownPairs,
  type CheckPair,
  type Named,
} from './judge-pairs.js';

const isNumber = (time: CheckedTime): number | null => (time === 'never' ? 0 : time);

export interface ClampingTimeInput {
  /** the switch makes [s] */
  timeToSwitchS: CheckedTime;
  /** the last clamp reaches its contact [s] */
  timeToContactS: CheckedTime;
  /** how far both may be off, from oil temperature and pump [s] */
  timeHalfWidthS: number | null;
  /** what the switch takes to tell that it has made; null: not known; left out: it is in the time to the switch [s] */
  switchDelayS?: number | null;
  allowedTimeS: number | null;
  /** both times as they lie closest together, where that is under other conditions; left out: the ones above */
  closest?: { timeToSwitchS: CheckedTime; timeToContactS: CheckedTime };
  /** those were read under better conditions, and nobody can say how much closer they lie under worse; left out: they are what they are */
  isClosestAtMost?: boolean;
  /** how far contact and switch may each be off, where they were read one by one; left out: they move together */
  orderHalfWidthS?: number | null;
  /** most that the switch senses while something still moves, null: nothing can follow it; and where it makes; left out: not computed */
  moving?: {
    mostPa: number | null;
    setPointPa: number | null;
    switchAccuracyPa: number | null;
    gaugeErrorPa: number | null;
  };
  /** the switch senses the clamps; null: nobody has said; left out: it does */
  sensesClamps?: boolean | null;
  /** the other line can be blocked while oil presses: then the switch makes, and nothing has moved; null: nobody has said; left out: it cannot */
  unclampLineBlocked?: boolean | null;
  /** what never comes is too late, whatever is allowed; left out: with no time allowed it is not known */
  isNeverTooLate?: boolean;
  /** what is missing for how far the unclamp line has to let down before; left out: nothing */
  warmthMissing?: readonly MissingFigure[];
  /** what is to be found out for the times, where they are not known; left out: the times themselves */
  timesMissing?: readonly MissingFigure[];
  marginAsked: number;
}

/** Times that are not known, by what they lack. */
function listTimes(
  because: readonly MissingFigure[] | undefined,
  ...times: readonly Named[]
): readonly MissingFigure[] {
  const missing = listMissing(...times);
  return missing.length > 0 && because !== undefined && because.length > 0 ? because : missing;
}

const toAllowed = ({ timeToSwitchS, allowedTimeS, isNeverTooLate }: ClampingTimeInput): Span =>
  isNeverTooLate === true && timeToSwitchS === 'never' && allowedTimeS === null
    ? { lo: 0, hi: Number.MAX_VALUE }
    : toSpan(allowedTimeS);

const isNot = (fact: boolean | null): boolean | null => (fact === null ? null : !fact);

/** While something moves the switch has to lie above all that it may sense then, by as much as it may make lower. */
function toMovingPair({ mostPa, ...at }: NonNullable<ClampingTimeInput['moving']>): CheckPair {
  const { setPointPa, switchAccuracyPa, gaugeErrorPa } = at;
  return {
    kind: 'pressure',
    demand: same(toSpan(mostPa)),
    capacity: asCapacity(toSpan(setPointPa), toSpan(switchAccuracyPa), toSpan(gaugeErrorPa)),
    failReason: 'switch-while-moving',
    subject: null,
    missing: listMissing(
      { field: 'timeToContactS', value: mostPa },
      { field: 'setPointPa', value: setPointPa },
      { field: 'switchAccuracyPa', value: switchAccuracyPa },
      { field: 'gaugeErrorPa', value: gaugeErrorPa },
    ),
    source: 'clamp-sequence',
    noMargin: true,
    isBehind: true,
  };
}

/** Check 5: clamps within the time allowed, and the switch cannot make before the last clamp has reached contact. */
export function checkClampingTime(input: ClampingTimeInput): CircuitCheck {
  const { timeToSwitchS, timeToContactS, timeHalfWidthS, switchDelayS = 0 } = input;
  const { allowedTimeS, timesMissing, marginAsked } = input;
  const closest = input.closest ?? { timeToSwitchS, timeToContactS };
  const orderWidth = input.orderHalfWidthS === undefined ? ZERO : toSpan(input.orderHalfWidthS);
  const contact = toTimeSpan(closest.timeToContactS);
  const width = toSpan(timeHalfWidthS);
  const toSwitch = { field: 'timeToSwitchS', value: isNumber(timeToSwitchS) };
  const toContact = { field: 'timeToContactS', value: isNumber(timeToContactS) };
  const halfWidth = { field: 'timeHalfWidthS', value: timeHalfWidthS };
  return judgePairs(
    'clamping-time',
    [
      {
        kind: 'time',
        demand: asDemand(add(toTimeSpan(timeToSwitchS), toSpan(switchDelayS)), width),
        capacity: same(toAllowed(input)),
        failReason: 'clamps-too-slowly',
        subject: null,
        missing: [
          ...listTimes(timesMissing, toSwitch, halfWidth),
          ...listMissing({ field: 'switchDelayS', value: switchDelayS }),
          ...listMissing({ field: 'allowedTimeS', value: allowedTimeS }),
        ],
        source: 'clamp-sequence',
      },
      {
        kind: 'time',
        // Of one transient both move together: their order counts, not their error.
        demand: asDemand(input.isClosestAtMost === true ? { ...contact, hi: Infinity } : contact, orderWidth),
        capacity: asCapacity(toTimeSpan(closest.timeToSwitchS), orderWidth),
        failReason: 'switch-before-contact',
        subject: null,
        missing: [
          ...listTimes(timesMissing, toContact, toSwitch),
          ...(input.orderHalfWidthS === null ? listMissing(halfWidth) : []),
        ],
        source: 'clamp-sequence',
        noMargin: true,
        isBehind: true,
      },
      ...(input.moving === undefined ? [] : [toMovingPair(input.moving)]),
      ...unknownPairs(input.warmthMissing ?? [], 'clamps-too-slowly', 'clamp-sequence'),
      ...(input.sensesClamps === undefined
        ? []
        : [factPair(input.sensesClamps, 'sensing', 'switch-senses-supply', 'clamp-sequence')]),
      ...(input.unclampLineBlocked === undefined
        ? []
        : [
            factPair(
              isNot(input.unclampLineBlocked),
              'unclampLineCanBlock',
              'switch-without-movement',
              'clamp-sequence',
            ),
          ]),
    ],
    marginAsked,
    'missing',
  );
}

export interface UnclampingInput {
  /** all clamps open, with the coldest oil [s] */
  timeColdS: CheckedTime;
  timeHalfWidthS: number | null;
  /** with colder oil it takes no less than this [s]; left out: nothing is known of it */
  timeAtLeastS?: number | null;
  /** by how much that may be off [s]; null: not known */
  atLeastHalfWidthS?: number | null;
  allowedTimeS: number | null;
  /** a robot or a loader trusts that the fixture is open; null: nobody has said */
  needsOpenProof: boolean | null;
  /** something other than "no pressure" proves it open; null: not known */
  hasOpenProof: boolean | null;
  /** cylinders that a spring returns */
  springs: readonly {
    ref: FigureRef;
    /** least force of the spring over the stroke [N] */
    springForceN: number | null;
    /** friction that it drags along [N]; left out: its force is less that already */
    frictionN?: number | null;
    pistonAreaM2: number | null;
    /** highest pressure of the return line while unclamping [Pa] */
    backPressurePa: number | null;
  }[];
  /** cylinders of which nobody has said whether oil or a spring returns them; left out: of all it is said */
  returnUnsaid?: readonly FigureRef[];
  /** check valves in the clamp line that nothing opens while unclamping */
  shut?: readonly FigureRef[];
  /** one more is there, of which nobody has said in which line it is */
  mayStayShut?: boolean;
  /** check valves that a pilot has to open; left out: not looked at */
  pilot?: PilotPressures & { valves: readonly PilotedValve[] };
  /** what is missing for how far the clamp line has to let down before; left out: nothing */
  warmthMissing?: readonly MissingFigure[];
  /** what is to be found out for the time, where it is not known; left out: the time itself */
  timesMissing?: readonly MissingFigure[];
  marginAsked: number;
}

/** A time that is no less than one that was read, with how far that may be off. */
function atLeast(time: ThreeViews, leastS: number | null | undefined, halfWidthS: number | null): ThreeViews {
  if (leastS == null) return time;
  const read = asDemand(toSpan(leastS), toSpan(halfWidthS));
  return {
    nominal: mostOf(time.nominal, read.nominal),
    stated: mostOf(time.stated, read.stated),
    worstCase: mostOf(time.worstCase, read.worstCase),
  };
}

/** Check 6: unclamps within the time allowed with cold oil; open is proved where it is trusted; springs beat the back pressure. */
export function checkUnclamping(input: UnclampingInput): CircuitCheck {
  const { timeColdS, timeHalfWidthS, allowedTimeS, needsOpenProof, hasOpenProof, springs, marginAsked } = input;
  const { timeAtLeastS, atLeastHalfWidthS = 0 } = input;
  const cold = { field: 'timeColdS', value: isNumber(timeColdS) };
  const halfWidth = { field: 'timeHalfWidthS', value: timeHalfWidthS };
  const pairs: CheckPair[] = [
    {
      kind: 'time',
      demand: atLeast(asDemand(toTimeSpan(timeColdS), toSpan(timeHalfWidthS)), timeAtLeastS, atLeastHalfWidthS),
      capacity: same(toSpan(allowedTimeS)),
      failReason: 'unclamps-too-slowly',
      subject: null,
      missing: [
        ...listTimes(input.timesMissing, cold, halfWidth),
        ...listMissing({ field: 'timeHalfWidthS', value: timeAtLeastS == null ? 0 : atLeastHalfWidthS }),
        ...listMissing({ field: 'allowedTimeS', value: allowedTimeS }),
      ],
      source: 'cylinder-speed',
    },
  ];
  pairs.push(...unknownPairs(input.warmthMissing ?? [], 'unclamps-too-slowly', 'cylinder-speed'));
  if (needsOpenProof === null) pairs.push(factPair(null, 'needsOpenProof', 'open-not-proved', 'interlock-proof'));
  if (needsOpenProof) pairs.push(factPair(hasOpenProof, 'hasOpenProof', 'open-not-proved', 'interlock-proof'));
  for (const ref of input.shut ?? []) {
    pairs.push(factPair(false, 'isPiloted', 'check-valve-stays-shut', 'cylinder-speed', ref));
  }
  if (input.mayStayShut === true) {
    pairs.push(factPair(null, 'checkValveLine', 'check-valve-stays-shut', 'cylinder-speed'));
  }
  if (input.pilot !== undefined) pairs.push(...listOfPilots(input.pilot.valves, input.pilot));
  for (const ref of input.returnUnsaid ?? []) {
    pairs.push(...unknownPairs([{ field: 'acting', ref }], 'spring-too-weak', 'cylinder-force'));
  }
  for (const { ref, springForceN, frictionN, pistonAreaM2, backPressurePa } of springs) {
    const back = multiply(toSpan(pistonAreaM2), toSpan(backPressurePa));
    pairs.push({
      kind: 'force',
      demand: same(frictionN === undefined ? back : add(back, toSpan(frictionN))),
      capacity: asCapacity(toSpan(springForceN)),
      failReason: 'spring-too-weak',
      subject: ref,
      missing: listMissing(
        { field: 'springForceN', value: springForceN, ref },
        { field: 'pistonAreaM2', value: pistonAreaM2, ref },
        { field: 'backPressurePa', value: backPressurePa, ref },
        ...(frictionN === undefined ? [] : [{ field: 'frictionN', value: frictionN, ref }]),
      ),
      source: 'cylinder-force',
      isBehind: true,
    });
  }
  return judgePairs('unclamping', pairs, marginAsked, 'missing');
}
