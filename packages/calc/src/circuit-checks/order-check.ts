import type { FigureRef, MissingFigure } from '../pressure-ladder/pressure-ladder.types.js';
import { add, toSpan } from '../pressure-ladder/span.js';
import type { CheckedTime, CircuitCheck } from './circuit-checks.types.js';
import {
  factPair,
  judgePairs,
  listMissing,
  listMissingOf,
  same,
  toSpanFrom,
  toTimeSpan,
  type CheckPair,
} from './judge-pairs.js';
import type { WithGauge } from './support-load.js';

export interface OrderAndSpeedInput {
  supports: readonly ({
    ref: FigureRef;
    /** pressure at which it is surely locked [Pa] */
    lockPressurePa: number | null;
    /** pressure at which the clamps begin to load the workpiece [Pa] */
    clampsLoadFromPa: number | null;
    /** when it has met the workpiece, and when the first clamp does, as often as they were computed [s]; null: not known; left out: not reckoned with */
    arrivals?: readonly { supportS: CheckedTime; clampS: CheckedTime }[] | null;
    /** beside clamping and cutting forces that it must carry, and what it carries, at the lowest pressure: the same at the highest [N]; left
     *  out: the load does not grow with it */
    atHighest?: WithGauge;
  } & WithGauge)[];
  swingClamps: readonly {
    ref: FigureRef;
    flowM3PerS: number | null;
    /** what leaves it as it opens [m3/s]; null: not known; left out: not reckoned with */
    returnFlowM3PerS?: number | null;
    highestFlowM3PerS: number | null;
    /** highest that it has, and what the chart allows at this arm [Pa] */
    pressurePa: number | null;
    /** what it has at least, where the whole is not known [Pa] */
    pressureAtLeastPa?: number;
    /** by how much the gauge may be off [Pa]; null: not known; left out: not reckoned with */
    gaugeErrorPa?: number | null;
    /** what is to be found out for the pressure, where it is not known; left out: the pressure itself */
    missing?: readonly MissingFigure[];
    armPressurePa: number | null;
  }[];
  /** which clamps and supports there are is not known: no fixture is fitted */
  isUnknown?: boolean;
  marginAsked: number;
}

type Support = OrderAndSpeedInput['supports'][number];
type SwingClamp = OrderAndSpeedInput['swingClamps'][number];

/** What is to be found out, where a figure is not known: what it lacks, else itself. */
const because = (
  itself: readonly MissingFigure[],
  missing: readonly MissingFigure[] | undefined,
): readonly MissingFigure[] => (itself.length > 0 && missing !== undefined && missing.length > 0 ? missing : itself);

function toLoaded({ ref }: Support, { loadN, capacityN, withGauge, missing }: WithGauge): CheckPair {
  const [load, capacity] = [toSpan(loadN), toSpan(capacityN)];
  const worst = withGauge ?? { loadN, capacityN };
  const itself = [
    ...listMissing({ field: 'loadN', value: loadN, ref }, { field: 'capacityN', value: capacityN, ref }),
    ...(worst.capacityN === null && capacityN !== null ? [{ field: 'capacityN', ref }] : []),
  ];
  return {
    kind: 'force',
    demand: { nominal: load, stated: load, worstCase: toSpan(worst.loadN) },
    capacity: { nominal: capacity, stated: capacity, worstCase: toSpan(worst.capacityN) },
    failReason: 'support-overloaded',
    subject: ref,
    missing: because(itself, missing),
    source: 'holding-force',
  };
}

function listOfSupport(support: Support): CheckPair[] {
  const { ref, lockPressurePa, clampsLoadFromPa, atHighest, arrivals = [] } = support;
  const lock = { field: 'lockPressurePa', value: lockPressurePa };
  const load = { field: 'clampsLoadFromPa', value: clampsLoadFromPa };
  return [
    {
      kind: 'pressure',
      demand: same(toSpan(lockPressurePa)),
      capacity: same(toSpan(clampsLoadFromPa)),
      failReason: 'support-locks-late',
      subject: ref,
      missing: listMissingOf(ref, lock, load),
      source: 'clamp-sequence',
    },
    ...(arrivals ?? [{ supportS: null, clampS: null }]).map(({ supportS, clampS }): CheckPair => ({
      kind: 'time',
      demand: same(toTimeSpan(supportS)),
      capacity: same(toTimeSpan(clampS)),
      failReason: 'support-locks-late',
      subject: ref,
      missing: arrivals === null ? [{ field: 'timeToContactS', ref: null }] : [],
      source: 'clamp-sequence',
      noMargin: true,
      isBehind: true,
    })),
    toLoaded(support, support),
    ...(atHighest === undefined ? [] : [toLoaded(support, atHighest)]),
  ];
}

function listOfSwingClamp(clamp: SwingClamp): CheckPair[] {
  const { ref, flowM3PerS, returnFlowM3PerS, highestFlowM3PerS } = clamp;
  const { pressurePa, pressureAtLeastPa, gaugeErrorPa = 0, armPressurePa } = clamp;
  const pressure = toSpanFrom(pressurePa, pressureAtLeastPa);
  const itself = [
    ...listMissing({ field: 'pressurePa', value: pressurePa, ref }),
    ...listMissing({ field: 'gaugeErrorPa', value: gaugeErrorPa }),
  ];
  const toFlow = (field: string, value: number | null, failReason: CheckPair['failReason']): CheckPair => ({
    kind: 'flow',
    demand: same(toSpan(value)),
    capacity: same(toSpan(highestFlowM3PerS)),
    failReason,
    subject: ref,
    missing: listMissingOf(ref, { field, value }, { field: 'highestFlowM3PerS', value: highestFlowM3PerS }),
    source: 'cylinder-speed',
  });
  return [
    toFlow('flowM3PerS', flowM3PerS, 'flow-too-high'),
    ...(returnFlowM3PerS === undefined
      ? []
      : [toFlow('returnFlowM3PerS', returnFlowM3PerS, 'flow-too-high-unclamping')]),
    {
      kind: 'pressure',
      demand: { nominal: pressure, stated: pressure, worstCase: add(pressure, toSpan(gaugeErrorPa)) },
      capacity: same(toSpan(armPressurePa)),
      failReason: 'pressure-above-arm-chart',
      subject: ref,
      missing: [
        ...because(itself, clamp.missing),
        ...listMissing({ field: 'armPressurePa', value: armPressurePa, ref }),
      ],
      source: 'swing-clamp-force',
    },
  ];
}

/** Check 12: supports lock before clamps load them and carry it; no swing clamp above its flow, nor its pressure at that arm. */
export function checkOrderAndSpeed({
  supports,
  swingClamps,
  isUnknown,
  marginAsked,
}: OrderAndSpeedInput): CircuitCheck {
  const pairs = [
    ...(isUnknown === true ? [factPair(null, 'fixture', 'support-locks-late', 'clamp-sequence')] : []),
    ...supports.flatMap(listOfSupport),
    ...swingClamps.flatMap(listOfSwingClamp),
  ];
  return judgePairs('order-and-speed', pairs, marginAsked, 'nothing-to-order');
}
