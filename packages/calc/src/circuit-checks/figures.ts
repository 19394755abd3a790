import type { MissingFigure } from '../pressure-ladder/pressure-ladder.types.js';
import type { LinePiece } from './actuation.types.js';

/** A piece of line whose figures are known; `compliance`: share of its volume that it widens by for each pascal [1/Pa]. */
export interface Piece {
  lengthM: number;
  innerDiameterM: number;
  compliance: number;
}
/** Collects what is missing while figures are taken. */
export class Figures {
  readonly missing: MissingFigure[] = [];

  /** The figure, or NaN and an entry in the list; `isRight`: what a figure must be to be used. */
  take(value: number | null, field: string, ref: MissingFigure['ref'], isRight: (value: number) => boolean): number {
    if (value !== null && Number.isFinite(value) && isRight(value)) return value;
    this.missing.push({ field, ref });
    return Number.NaN;
  }

  takeLine(pieces: readonly LinePiece[], field: string): Piece[] {
    if (pieces.length === 0) this.missing.push({ field, ref: null });
    return pieces.map(({ ref, lengthM, innerDiameterM, isHose, expansionModulusPa }) => ({
      lengthM: this.take(lengthM, 'lengthM', ref, isPositive),
      innerDiameterM: this.take(innerDiameterM, 'innerDiameterM', ref, isPositive),
      compliance: isHose ? 1 / this.take(expansionModulusPa, 'expansionModulusPa', ref, isPositive) : 0,
    }));
  }
}

export const isPositive = (value: number): boolean => value > 0;
export const isNotNegative = (value: number): boolean => value >= 0;
export const toArea = (diameterM: number): number => (Math.PI * diameterM ** 2) / 4;
export const toVolume = ({ lengthM, innerDiameterM }: Piece): number => toArea(innerDiameterM) * lengthM;
export const sumOf = <T>(items: readonly T[], toNumber: (item: T) => number): number =>
  items.reduce((sum, item) => sum + toNumber(item), 0);
