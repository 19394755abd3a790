import type { CircuitOverview } from '@repo/contracts';
import { toSi, type QuantityKind } from '@repo/quantity';
import { findUnitNear, ratioOf, showIn, showTyped, TENFOLD, type Say } from '../../lib/quantity/figure-doubts';
import {
  PASCAL_PER_UNIT,
  toPlainText,
  toUnitSymbol,
  type EnteredQuantity,
  type PressureUnit,
} from '../../lib/quantity/format';
import {
  MEASURED_FIELDS,
  MEASURED_KINDS,
  SETTING_FIELDS,
  type MeasuredField,
  type SettingField,
} from './setting-names';

type Field = SettingField | MeasuredField;
type Values = Partial<Record<Field, EnteredQuantity | null>>;

/** What a figure is compared with before it is saved. */
export interface Compared {
  target: Values | null;
  /** the revision before */
  former: Values | null;
  rating: { name: string; pressurePa: number } | null;
}

/** The weakest of the ratings stands for all: a figure above it is above at least that one. */
export function toCompared({
  target,
  asLeft,
  ladder,
}: Pick<CircuitOverview, 'target' | 'asLeft' | 'ladder'>): Compared {
  const ratings = ladder.rungs.flatMap(({ code, pressurePa, ref }) =>
    code === 'rating' && pressurePa !== null ? [{ name: ref?.name ?? '', pressurePa }] : [],
  );
  const [rating = null] = ratings.sort((a, b) => a.pressurePa - b.pressurePa);
  return { target, former: asLeft, rating };
}

/** Beyond these ratios a pressure is far from what it is compared with; a time varies more between two readings. */
const FAR: Partial<Record<QuantityKind, number>> = { pressure: 1.2, time: 3 };
const FAR_TEMPERATURE_K = 30;

/** What circuits for workholding are usually set to, in bar: outside, the unit is more likely wrong than the circuit strange. */
const USUAL_BAR: Partial<Record<Field, readonly [number, number]>> = {
  setting: [5, 1000],
  setPoint: [5, 1000],
  resetPoint: [5, 1000],
  pumpRestart: [5, 1000],
  lowestWhileShared: [5, 1000],
  airPressure: [0.5, 16],
};
/** How far a reading may be off says nothing by its size alone. */
const UNCOMPARED: readonly Field[] = [
  'settingTolerance',
  'pumpRestartTolerance',
  'timeTolerance',
  'decay',
  'decayDuration',
];

const kindOf = (field: Field): QuantityKind =>
  field in MEASURED_KINDS ? MEASURED_KINDS[field as MeasuredField].kind : 'pressure';
/** A pressure that nobody typed, to three digits. */
const toText = (pressurePa: number, unit: PressureUnit): string =>
  `${toPlainText(pressurePa / PASCAL_PER_UNIT[unit], 3)} ${toUnitSymbol(unit)}`;

function doubtAgainst(
  value: EnteredQuantity,
  kind: QuantityKind,
  reference: EnteredQuantity,
): { code: 'tenfold' | 'far' | 'otherUnit'; unit?: string } | null {
  const is = toSi(value.value, value.unit, kind);
  const be = toSi(reference.value, reference.unit, kind);
  if (kind === 'temperature') return Math.abs(is - be) > FAR_TEMPERATURE_K ? { code: 'far' } : null;
  const far = FAR[kind];
  if (far === undefined || be <= 0 || is <= 0 || ratioOf(is, be) <= far) return null;
  const unit = kind === 'pressure' ? findUnitNear(value, kind, (other) => ratioOf(other, be) <= far) : undefined;
  if (unit !== undefined) return { code: 'otherUnit', unit };
  return { code: ratioOf(is, be) >= TENFOLD ? 'tenfold' : 'far' };
}

/**
 * What is worth asking about before figures are saved: nothing here refuses them. At most one question of a field, the gravest.
 * @param unit in which the reader sees pressures
 */
export function listDoubts(values: Values, { target, former, rating }: Compared, unit: PressureUnit, t: Say): string[] {
  const doubtOf = (field: Field): string | null => {
    const value = values[field];
    if (value === null || value === undefined || UNCOMPARED.includes(field)) return null;
    const kind = kindOf(field);
    const words = { field: t(`settings.${field}`), value: showTyped(value) };
    const isOfCircuit = kind === 'pressure' && field !== 'airPressure' && field !== 'gaugeSpan';
    if (isOfCircuit && rating !== null && toSi(value.value, value.unit, kind) > rating.pressurePa) {
      const reference = toText(rating.pressurePa, unit);
      return t('doubt.aboveRating', { ...words, name: rating.name, reference });
    }
    const others = [
      { name: t('settings.doubt.target'), quantity: target?.[field] },
      { name: t('settings.doubt.former'), quantity: former?.[field] },
      // The switch makes and the pump restarts near the setting, whatever was written before.
      ...(isOfCircuit && field !== 'setting'
        ? [{ name: t('settings.doubt.setting'), quantity: values.setting, isNeighbour: true }]
        : []),
    ];
    for (const { name, quantity, isNeighbour } of others.map((other) => ({ isNeighbour: false, ...other }))) {
      if (quantity === null || quantity === undefined) continue;
      const doubt = doubtAgainst(value, kind, quantity);
      // A neighbour lies apart by its nature: only another unit's size or ten times off is strange.
      if (doubt === null || (isNeighbour && doubt.code === 'far')) continue;
      const reference = showIn(quantity, kind, kind === 'pressure' ? unit : quantity.unit);
      const same = doubt.unit === undefined ? '' : showTyped({ ...value, unit: doubt.unit });
      return t(`doubt.${doubt.code}`, { ...words, other: name, reference, same });
    }
    const usual = USUAL_BAR[field];
    if (usual === undefined) return null;
    const [low, high] = usual.map((bar) => toSi(bar, 'bar', 'pressure'));
    const pascal = toSi(value.value, value.unit, kind);
    if (low === undefined || high === undefined || (pascal >= low && pascal <= high)) return null;
    return t('doubt.unusual', { ...words, low: toText(low, unit), high: toText(high, unit) });
  };
  return [...SETTING_FIELDS, ...MEASURED_FIELDS].flatMap((field) => doubtOf(field) ?? []);
}

/** What an air-driven pump brings, and how fast, is by its air: a reading can only be compared with one at the same. */
const WITH_AIR: readonly Field[] = ['setting', 'clampTime', 'contactTime', 'unclampTime', 'lowestWhileShared'];

/** What stands beside a field while it is typed: the target, the reading before it, and how far the typed one is from the target. */
export function noteOf(
  field: Field,
  value: EnteredQuantity | null,
  { target, former }: Compared,
  unit: PressureUnit,
  t: Say,
): string | undefined {
  const kind = kindOf(field);
  const show = (quantity: EnteredQuantity): string =>
    showIn(quantity, kind, kind === 'pressure' ? unit : quantity.unit);
  const wanted = target?.[field] ?? null;
  const before = former?.[field] ?? null;
  const parts: string[] = [];
  if (wanted !== null) parts.push(t('settings.note.target', { value: show(wanted) }));
  const air = WITH_AIR.includes(field) ? (former?.airPressure ?? null) : null;
  if (before !== null && air !== null) {
    const words = { value: show(before), air: showIn(air, 'pressure', unit) };
    parts.push(t('settings.note.formerWithAir', words));
  } else if (before !== null) parts.push(t('settings.note.former', { value: show(before) }));
  if (wanted !== null && value !== null && kind === 'pressure') {
    const apart = toSi(value.value, value.unit, kind) - toSi(wanted.value, wanted.unit, kind);
    const size = toText(Math.abs(apart), unit);
    if (Math.abs(apart) < 1) parts.push(t('settings.note.onTarget'));
    else parts.push(t(apart > 0 ? 'settings.note.above' : 'settings.note.below', { value: size }));
  }
  return parts.length === 0 ? undefined : parts.join(' · ');
}
