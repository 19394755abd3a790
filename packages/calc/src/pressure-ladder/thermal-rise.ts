import type { MissingFigure, PressureLadderInput } from './pressure-ladder.types.js';
import { known, toSpan, UNKNOWN, ZERO, type Span } from './span.js';

export interface RiseFigure {
  readonly span: Span;
  readonly missing: readonly MissingFigure[];
}

/** Rise of pressure in oil that is shut in and warms up; none where nothing can be shut in, or where it cools. */
export function findThermalRise({ thermal }: PressureLadderInput): RiseFigure {
  if (!thermal.canTrap) return { span: ZERO, missing: [] };
  const { unsaid = [] } = thermal;
  return unsaid.length > 0 ? toUnsaidRise(toRise(thermal), unsaid) : toRise(thermal);
}

/** Where nobody has said whether it is shut in, from nothing to what it would rise by; what would not rise need not be said. */
export const toUnsaidRise = ({ span, missing }: RiseFigure, unsaid: readonly string[]): RiseFigure =>
  span.hi === 0
    ? { span, missing: [] }
    : { span: { lo: 0, hi: span.hi }, missing: [...unsaid.map((field) => ({ field, ref: null })), ...missing] };

/** What oil of the unclamp line rises by, shut in for itself: its walls are not those of the clamp line; none where no oil moves anything back. */
export function findUnclampRise({ unclampLineBlocked, thermal }: PressureLadderInput): RiseFigure {
  if (unclampLineBlocked === undefined) return { span: ZERO, missing: [] };
  const { span, missing } = toRise({ ...thermal, bulkModulusPa: thermal.unclampBulkModulusPa ?? null });
  const named = missing.map(({ field, ref }) => ({
    field: field === 'bulkModulusPa' ? 'unclampBulkModulusPa' : field,
    ref,
  }));
  return { span, missing: named };
}

type Warming = Pick<PressureLadderInput['thermal'], 'temperatureRiseK' | 'netExpansionPerK' | 'bulkModulusPa'>;

/** What oil rises by that surely is shut in. */
export function toRise(thermal: Warming): RiseFigure {
  // What does not warm up does not rise, whatever its walls do.
  if ((known(thermal.temperatureRiseK) ?? 1) <= 0) return { span: ZERO, missing: [] };
  const fields = ['temperatureRiseK', 'netExpansionPerK', 'bulkModulusPa'] as const;
  const unknown = fields.filter((field) => known(thermal[field]) === null);
  const rise = fields.reduce((product, field) => product * Number(thermal[field]), 1);
  if (unknown.length === 0 && rise <= 0) return { span: ZERO, missing: [] };
  if (unknown.length === 0 && known(rise) !== null) return { span: toSpan(rise), missing: [] };
  // Figures that are all there, but make no pressure that a circuit can have: each of them is asked for again.
  const missing = (unknown.length === 0 ? fields : unknown).map((field) => ({ field, ref: null }));
  return { span: UNKNOWN, missing };
}
