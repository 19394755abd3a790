import type { FigureRef, MissingFigure } from '../pressure-ladder/pressure-ladder.types.js';
import { toRelativeVolume } from '../trapped-oil/effective-bulk-modulus.js';
import type { ActuationInput } from './actuation.types.js';
import { Figures, isNotNegative, isPositive, sumOf, toArea, toVolume } from './figures.js';

/** Oil that a circuit takes to clamp, and gives back net of what the other side takes, at a pressure [m3]; null: not known. */
export function toOilVolumes(
  {
    groups,
    lines,
    oil,
    stores = [],
  }: Pick<ActuationInput, 'groups' | 'lines' | 'oil'> & {
    stores?: readonly { ref: FigureRef; sizeM3: number | null }[];
  },
  pressurePa: number | null,
): { clampVolumeM3: number | null; returnVolumeM3: number | null; missing: readonly MissingFigure[] } {
  const figures = new Figures();
  if (groups.length === 0) figures.missing.push({ field: 'groups', ref: null });
  const cylinders = groups.map((group) => {
    const { ref, acting, count } = group;
    if (acting === null) figures.missing.push({ field: 'acting', ref });
    const boreM = figures.take(group.boreM, 'boreM', ref, isPositive);
    const strokeM = figures.take(group.strokeM, 'strokeM', ref, isNotNegative);
    const rodM =
      acting === 'single' ? boreM : figures.take(group.rodM, 'rodM', ref, (rod) => rod >= 0 && !(rod >= boreM));
    // A rod displaces what comes back less what goes in; a spring's side takes no oil.
    return { taken: count * toArea(boreM) * strokeM, returned: count * toArea(rodM) * strokeM };
  });
  const line = figures.takeLine(lines.clamp, 'clampLine');
  const modulusPa = figures.take(oil.bulkModulusPa, 'bulkModulusPa', null, isPositive);
  const airFraction = figures.take(oil.airFraction, 'airFraction', null, (share) => share >= 0 && share < 1);
  const reached = figures.take(pressurePa, 'stallPressurePa', null, isPositive);
  const stored = sumOf(stores, ({ ref, sizeM3 }) => figures.take(sizeM3, 'size', ref, isPositive));
  if (figures.missing.length > 0) return { clampVolumeM3: null, returnVolumeM3: null, missing: figures.missing };
  const strokes = sumOf(cylinders, ({ taken }) => taken);
  const volume = strokes + sumOf(line, toVolume);
  const widened = sumOf(line, (piece) => toVolume(piece) * piece.compliance * reached);
  const compressed = volume * (1 / toRelativeVolume(modulusPa, airFraction, reached) - 1) + widened;
  return {
    clampVolumeM3: strokes + compressed + stored,
    returnVolumeM3: sumOf(cylinders, ({ returned }) => returned) + compressed + stored,
    missing: [],
  };
}
