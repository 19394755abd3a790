import type { CheckCode, CheckReason } from '../circuit-checks/checks.js';
import type { CircuitFacts } from '../circuit-facts/circuit-facts.types.js';
import { figureOf, findOfKind } from '../circuit-facts/component-figures.js';
import { isReduced } from '../circuit-facts/shut-off.js';
import { ofKind, ofPowerUnit, ofSettings, type Lever } from './levers.js';
import { BAR } from './steps.js';

/** What lies between the same bounds as what is set: set at the machine, fed to it, or made more accurate. In the order in which they are tried. */
export const SETTING_CODES = [
  'setting',
  'switch',
  'set-point',
  'pump-restart',
  'air-pressure',
  'setting-tolerance',
  'switch-accuracy',
  'plant-air-low',
  'pump-ratio',
] as const;
export type SettingCode = (typeof SETTING_CODES)[number];

/** A figure that is set, on whole steps between two ends. */
export interface SettingLever {
  readonly lever: Lever;
  readonly step: number;
  readonly lowest: number;
  readonly highest: number;
}

const LEAST_PA = 5 * BAR;
const MOST_PA = 700 * BAR;
const MOST_AIR_PA = 16 * BAR;
const LEAST_APART_PA = BAR;
/** Tolerance and accuracy that can be bought (common practice, no source). */
const FINEST_PA = 0.5 * BAR;
/** So far above its reset point is the set point of a switch of which nobody has said it (common practice, no source). */
const USUAL_APART_PA = 5 * BAR;
/** A pump of the next size, and of the one after that. */
const MOST_RATIO = 2;

/** Those of a circuit; of what nobody knows there is none: it is to be recorded. */
export function listSettingLevers(facts: CircuitFacts): ReadonlyMap<SettingCode, SettingLever> {
  const { settings, powerUnit } = facts;
  const { setPointPa = null, resetPointPa = null, airPressurePa = null } = settings.inUse ?? {};
  const set = ofSettings(facts);
  const apart =
    setPointPa === null || resetPointPa === null ? USUAL_APART_PA : Math.max(LEAST_APART_PA, setPointPa - resetPointPa);
  const isAir = powerUnit.drive === 'air';
  const airPa = Math.max(airPressurePa ?? 0, powerUnit.plantAirHighPa ?? MOST_AIR_PA);
  const pressures = { step: BAR, lowest: LEAST_PA, highest: MOST_PA };
  const fine = ([lever]: readonly Lever[]): Partial<SettingLever> => ({
    step: FINEST_PA,
    lowest: FINEST_PA,
    highest: lever?.from ?? 0,
  });
  const air = { step: 0.1 * BAR, lowest: BAR, highest: airPa };
  const ratio = ofKind(facts, 'pump', 'pump-ratio', 'pistonRatio');
  const lowAir = ofPowerUnit(facts)('plant-air-low', 'plantAirLowPa');
  const tolerance = set('setting-tolerance', 'settingTolerancePa');
  const accuracy = ofKind(facts, 'pressure-switch', 'switch-accuracy', 'accuracy');
  const all: readonly (readonly [readonly Lever[], Partial<SettingLever>])[] = [
    [set('setting', 'settingPa'), {}],
    // Both points go together: a switch keeps what lies between them, and what is set anew is known.
    [set('switch', 'resetPointPa').map((lever) => ({ ...lever, apart })), {}],
    // Further from its reset point a set point can be; nearer, not every switch allows: it then stays as far as it was.
    [set('set-point', 'setPointPa').map((lever) => ({ ...lever, apart })), {}],
    [set('pump-restart', 'pumpRestartPa'), {}],
    [isAir ? set('air-pressure', 'airPressurePa') : [], air],
    [tolerance, fine(tolerance)],
    [accuracy, fine(accuracy)],
    [isAir ? lowAir : [], { ...air, lowest: powerUnit.plantAirLowPa ?? 0 }],
    [isAir ? ratio : [], { step: 1, lowest: ratio[0]?.from ?? 0, highest: (ratio[0]?.from ?? 0) * MOST_RATIO }],
  ];
  return new Map(
    all.flatMap(([levers, limits]) =>
      levers
        .map((lever) => [lever.code as SettingCode, { lever, ...pressures, ...limits }] as const)
        // What is as fine, or as high, as it can be had has no step left.
        .filter(([, { lowest, highest, step }]) => Math.ceil(lowest / step) <= Math.floor(highest / step)),
    ),
  );
}

/** 0: up in one circuit, down in another. Of what is left out more does no harm. */
type Wants = Partial<Readonly<Record<SettingCode, 1 | -1 | 0>>>;
/** A rule that settings keep: a check, or the part of it that gives a reason; and which way each setting serves it. */
export interface SettingRule {
  readonly rule: CheckCode | 'attainable' | 'restarts-below';
  readonly reasons: readonly CheckReason[] | null;
  readonly wants: Wants;
  /** a part can always be had that keeps it: a higher rating, a longer time */
  readonly isLeftToParts?: true;
  /** as if no other circuit were fed by its power unit */
  readonly isAlone?: true;
  /** as if nothing were known of pads, nor asked */
  readonly isWithoutPads?: true;
}
/** What is set behind a valve moves with the pressure before it: a larger pump sets it less exactly. */
const BELOW: Wants = { setting: -1, 'setting-tolerance': -1, 'pump-ratio': -1 };
const AIR: Wants = { 'air-pressure': 1, 'plant-air-low': 1, 'pump-ratio': 1 };
/** What is better the further it goes, whatever else is set; the others lie in a chain, each above the one before it. */
export const RESOURCES: Wants = { 'setting-tolerance': -1, 'switch-accuracy': -1, ...AIR };
export const SETTING_RULES: readonly SettingRule[] = [
  { rule: 'attainable', reasons: null, wants: { setting: -1, 'air-pressure': 1, 'pump-ratio': 1 } },
  { rule: 'restarts-below', reasons: null, wants: { setting: 1, 'pump-restart': -1 } },
  // What warms up in the unclamp line works against the clamps by the setting.
  { rule: 'holds-workpiece', reasons: null, wants: { switch: 1, setting: -1, 'switch-accuracy': -1 } },
  {
    rule: 'no-nuisance-stop',
    reasons: null,
    wants: {
      ...{ switch: -1, 'set-point': -1, setting: 1, 'setting-tolerance': -1, 'switch-accuracy': -1 },
      ...{ ...AIR, 'pump-ratio': 0 },
    },
  },
  {
    rule: 'setting-within-rating',
    reasons: ['above-rating', 'inside-margin', 'gauge-error-decides', 'probability-too-low'],
    // What the pump goes on to hides what the setting is above.
    wants: { ...BELOW, 'pump-ratio': 0, 'air-pressure': 0 },
    isLeftToParts: true,
  },
  // The air follows the setting.
  {
    rule: 'setting-within-rating',
    reasons: ['stall-above-setting'],
    wants: { setting: 0, 'air-pressure': 0, 'setting-tolerance': 0, 'pump-ratio': 0 },
    isLeftToParts: true,
  },
  { rule: 'highest-within-rating', reasons: null, wants: BELOW, isLeftToParts: true },
  { rule: 'workpiece-limit', reasons: null, isWithoutPads: true, wants: BELOW },
  // A pad can be rounder.
  { rule: 'workpiece-limit', reasons: null, isLeftToParts: true, wants: BELOW },
  // Apart from other stations: how far they pull it down can be made less, and read again.
  {
    rule: 'shared-supply',
    reasons: null,
    isAlone: true,
    wants: { switch: -1, 'pump-restart': 1, setting: 1, 'switch-accuracy': -1, 'setting-tolerance': -1, ...AIR },
  },
  {
    rule: 'shared-supply',
    reasons: null,
    isLeftToParts: true,
    wants: { switch: -1, 'switch-accuracy': -1, 'setting-tolerance': -1 },
  },
  {
    rule: 'holds-without-supply',
    reasons: [
      'falls-below-required',
      'warms-below-required',
      'inside-margin',
      'gauge-error-decides',
      'probability-too-low',
    ],
    wants: { setting: 0, 'pump-restart': 1, 'setting-tolerance': -1, ...AIR },
  },
  {
    rule: 'clamping-time',
    reasons: ['switch-before-contact', 'switch-while-moving'],
    wants: { switch: 1, 'set-point': 1 },
  },
  {
    rule: 'clamping-time',
    reasons: ['clamps-too-slowly', 'inside-margin'],
    wants: { switch: -1, 'set-point': -1, ...AIR },
    isLeftToParts: true,
  },
  { rule: 'order-and-speed', reasons: ['pressure-above-arm-chart'], wants: BELOW, isLeftToParts: true },
];

/** What bears on whether a pump lifts to its setting, and starts again below it. */
export const PUMP_SETTINGS: Readonly<Record<'attainable' | 'restarts-below', ReadonlySet<SettingCode>>> = {
  attainable: new Set(['setting', 'air-pressure', 'pump-ratio']),
  'restarts-below': new Set(['setting', 'pump-restart']),
};

/** What decides whether a pump lifts to its setting; null: not known. */
function listLift({ settings: { inUse }, components, powerUnit }: CircuitFacts): readonly (number | null)[] {
  const pump = findOfKind(components, 'pump');
  const isAir = powerUnit.drive === 'air';
  const stall = [figureOf(pump, 'pistonRatio'), figureOf(pump, 'stallEfficiency'), inUse?.airPressurePa ?? null];
  return [inUse?.settingPa ?? null, ...(isAir ? stall : [])];
}

/** By how much an air-driven pump's pressure goes with its air; null: not known, or a reducing valve makes the setting. */
export function toLiftPerAir({ circuit, components, powerUnit }: CircuitFacts): number | null {
  const pump = findOfKind(components, 'pump');
  const [ratio, efficiency] = [figureOf(pump, 'pistonRatio'), figureOf(pump, 'stallEfficiency')];
  const isByAir = powerUnit.drive === 'air' && !isReduced({ circuit, components });
  return !isByAir || ratio === null || efficiency === null || ratio * efficiency <= 0 ? null : ratio * efficiency;
}

/** What no check asks, but a pump does: it lifts no higher than it stalls at its air. */
export function isAttainable(facts: CircuitFacts): boolean {
  const [settingPa, ...stall] = listLift(facts);
  if (stall.length === 0 || stall.includes(null)) return true;
  return Number(settingPa) <= stall.reduce<number>((product, factor) => product * Number(factor), 1);
}

const listRestart = ({ settings: { inUse } }: CircuitFacts): readonly (number | null)[] => [
  inUse?.settingPa ?? null,
  inUse?.pumpRestartPa ?? null,
];

/** And it starts again below where it stops. */
export function restartsBelow(facts: CircuitFacts): boolean {
  const known = listRestart(facts).filter((pressure) => pressure !== null);
  const [settingPa, restartPa] = known;
  return known.length < 2 || Number(restartPa) < Number(settingPa);
}

/** Whether of a pump is asked what it cannot do, and was not asked before in the same way. */
export function asksTooMuch(facts: CircuitFacts, before: CircuitFacts): boolean {
  const isChanged = (list: (given: CircuitFacts) => readonly (number | null)[]): boolean =>
    list(facts).join() !== list(before).join();
  return (!isAttainable(facts) && isChanged(listLift)) || (!restartsBelow(facts) && isChanged(listRestart));
}
