import type { ActuationInput, LineFitting, LineName } from './actuation.types.js';
import { isNotNegative, isPositive, sumOf, toArea, type Figures, type Piece } from './figures.js';

/**
 * Laminar share of a fitting's loss where its coefficient is known: K + K1/Re with K1 = 800, a threaded elbow (two-K method, W. B. Hooper,
 * Chemical Engineering, 24 August 1981; from memory). In the thick oil of a cold morning it is the greater part.
 */
const LAMINAR_K = 800;

/** A fitting whose figures are known; a bore that nobody gave is the narrowest of its line. */
export interface Fitting {
  lossCoefficient: number | null;
  lengthM: number;
  innerDiameterM: number;
  /** nobody has said what it loses */
  isUsual: boolean;
}
const NO_FITTINGS: Readonly<Record<LineName, readonly LineFitting[]>> = {
  supply: [],
  clamp: [],
  unclamp: [],
  tank: [],
};

export const fittingsOf = ({ fittings = NO_FITTINGS }: ActuationInput, line: LineName): readonly LineFitting[] =>
  fittings[line];

/** Fittings of a line among its pieces. Where both figures are known both count, which is more than either. */
export function takeFittings(figures: Figures, fittings: readonly LineFitting[], pieces: readonly Piece[]): Fitting[] {
  const narrowestM = Math.min(...pieces.map(({ innerDiameterM }) => innerDiameterM));
  return fittings.map(({ ref, lossCoefficient, equivalentLengthM, innerDiameterM: ownM, usualBores }) => {
    const isUsual = lossCoefficient === null && equivalentLengthM === null;
    const innerDiameterM = ownM === null ? narrowestM : figures.take(ownM, 'innerDiameterM', ref, isPositive);
    const lengthM = equivalentLengthM ?? (isUsual ? usualBores * innerDiameterM : 0);
    return {
      innerDiameterM,
      isUsual,
      lossCoefficient:
        lossCoefficient === null ? null : figures.take(lossCoefficient, 'lossCoefficient', ref, isNotNegative),
      // Without a bore its line has been asked for already.
      lengthM: Number.isNaN(lengthM) ? lengthM : figures.take(lengthM, 'equivalentLengthM', ref, isNotNegative),
    };
  });
}

/** Laminar loss for each flow of a line [Pa.s/m3]. */
export function toResistance(pieces: readonly Piece[], viscosityM2PerS: number, densityKgPerM3: number): number {
  const perLength = (128 * viscosityM2PerS * densityKgPerM3) / Math.PI;
  return perLength * sumOf(pieces, ({ lengthM, innerDiameterM }) => lengthM / innerDiameterM ** 4);
}

/**
 * Loss for each flow of fittings [Pa.s/m3]: laminar for a length of line; for a coefficient that at the pump's free flow, above what it is
 * at less, and its laminar share.
 */
export function toFittingResistance(
  fittings: readonly Fitting[],
  { viscosityM2PerS, freeFlowM3PerS }: { viscosityM2PerS: number; freeFlowM3PerS: number },
  densityKgPerM3: number,
): number {
  const straight = fittings.map(({ lengthM, innerDiameterM }) => ({ lengthM, innerDiameterM, compliance: 0 }));
  return (
    toResistance(straight, viscosityM2PerS, densityKgPerM3) +
    sumOf(fittings, ({ lossCoefficient, innerDiameterM }) => {
      if (lossCoefficient === null) return 0;
      const area = toArea(innerDiameterM);
      const turbulent = (lossCoefficient * freeFlowM3PerS) / area;
      const laminar = (LAMINAR_K * viscosityM2PerS) / innerDiameterM;
      return ((turbulent + laminar) * densityKgPerM3) / (2 * area);
    })
  );
}

/** The least that flow controls of a line let pass one way [m3/s]; Infinity: none stands there. */
export function takeLimit(
  figures: Figures,
  { flowControls = [] }: ActuationInput,
  line: LineName,
  way: 'toCylindersM3PerS' | 'fromCylindersM3PerS',
): number {
  return flowControls
    .filter((control) => control.line === line)
    .reduce((least, control) => Math.min(least, figures.take(control[way], way, control.ref, isPositive)), Infinity);
}
