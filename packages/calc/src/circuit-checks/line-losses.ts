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

/** Oil that passes, and the most of it for which its loss is asked. */
export interface Passing {
  viscosityM2PerS: number;
  densityKgPerM3: number;
  flowM3PerS: number;
}

const LAMINAR_BELOW = 2300;
/**
 * How much more than laminar flow a smooth line loses: f·Re/64 with f = 0.3164/Re^0.25 (Blasius 1913, up to Re = 1e5) above Re = 2300, where
 * it may be either.
 */
function toTurbulence(innerDiameterM: number, { viscosityM2PerS, flowM3PerS }: Passing): number {
  const reynolds = (4 * flowM3PerS) / (Math.PI * innerDiameterM * viscosityM2PerS);
  return reynolds > LAMINAR_BELOW ? (0.3164 / 64) * reynolds ** 0.75 : 1;
}

type Straight = Pick<Piece, 'lengthM' | 'innerDiameterM'>;

/** Loss for each flow of a line at the most that passes, above what it is at less; of no flow that of laminar flow [Pa.s/m3]. */
export function toResistance(pieces: readonly Straight[], passing: Passing): number {
  const perLength = (128 * passing.viscosityM2PerS * passing.densityKgPerM3) / Math.PI;
  return (
    perLength *
    sumOf(
      pieces,
      ({ lengthM, innerDiameterM }) => (lengthM / innerDiameterM ** 4) * toTurbulence(innerDiameterM, passing),
    )
  );
}

/** Loss for each flow of fittings that have a coefficient, at the most that passes, with its laminar share [Pa.s/m3]. */
export const toFittingResistance = (
  fittings: readonly Fitting[],
  { viscosityM2PerS, densityKgPerM3, flowM3PerS }: Passing,
): number =>
  sumOf(fittings, ({ lossCoefficient, innerDiameterM }) => {
    if (lossCoefficient === null) return 0;
    const area = toArea(innerDiameterM);
    const turbulent = (lossCoefficient * flowM3PerS) / area;
    const laminar = (LAMINAR_K * viscosityM2PerS) / innerDiameterM;
    return ((turbulent + laminar) * densityKgPerM3) / (2 * area);
  });

/** A directional valve, by its point at rated flow. */
export interface Valve {
  lossAtRatedFlowPa: number;
  ratedFlowM3PerS: number;
}

/**
 * Loss for each flow through the valve at the most that passes [Pa.s/m3]: up to its rated flow in proportion, which is more than it loses
 * there; beyond it with the square. What is thicker than the oil that it was rated with, at 40 °C (common practice, no source), loses as
 * much more as it is thicker, which is the most (laminar flow).
 */
export const toValveResistance = (
  { lossAtRatedFlowPa, ratedFlowM3PerS }: Valve,
  { viscosityM2PerS, flowM3PerS }: Pick<Passing, 'viscosityM2PerS' | 'flowM3PerS'>,
  viscosityAt40M2PerS: number,
): number =>
  (lossAtRatedFlowPa / ratedFlowM3PerS) *
  Math.max(1, flowM3PerS / ratedFlowM3PerS) *
  Math.max(1, viscosityM2PerS / viscosityAt40M2PerS);

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
