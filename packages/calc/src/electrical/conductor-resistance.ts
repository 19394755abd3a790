import { requireFinite, requireThat } from '../errors.js';

/** Annealed copper at 20 °C [Ω·m] and its temperature coefficient [1/K]. Source: IEC 60028:1925, as tables of conductors carry it. */
const COPPER_OHM_M = 1.7241e-8;
const COPPER_PER_K = 0.00393;
const REFERENCE_K = 293.15;

export interface ConductorResistanceInput {
  /** n: AWG number, 0 is 1/0, −1 is 2/0 [1], either sign */
  gauge?: number | undefined;
  /** A: cross-section of the copper [m2], 0 < A */
  crossSectionM2?: number | undefined;
  /** L: length of the conductor [m], 0 <= L */
  lengthM: number;
  /** T: temperature of the conductor [K] */
  temperatureK: number;
}
export interface ConductorResistanceResult {
  /** d: diameter of a solid conductor of this cross-section [m] */
  diameterM: number;
  /** A: cross-section [m2] */
  crossSectionM2: number;
  /** R: resistance of one conductor [Ohm] */
  resistanceOhm: number;
}
/**
 * Resistance of one copper conductor by its gauge or cross-section.
 *
 * @formula
 * d = 0.127e-3 * 92^((36 - n) / 39)
 * A = pi * d^2 / 4
 * R = 1.7241e-8 * L / A * (1 + 0.00393 * (T - 293.15))
 * @assumes Solid annealed copper; a stranded conductor of the same gauge has a few per cent more.
 * @range DC and low frequency.
 * @throws CalcInputError inconsistent: gauge and cross-section both or neither. not-finite: NaN or infinite input.
 * @example awg-18
 * in  gauge=18 lengthM=304.8 temperatureK=293.15
 * out resistanceOhm=6.384881861674868
 * @source ASTM B258 (diameters); published table: 6.385 Ω per 1000 ft of 18 AWG.
 */
export function conductorResistance(input: ConductorResistanceInput): ConductorResistanceResult {
  requireFinite(input);
  const { gauge, crossSectionM2, lengthM, temperatureK } = input;
  requireThat(
    (gauge === undefined) !== (crossSectionM2 === undefined),
    'inconsistent',
    ['gauge', 'crossSectionM2'],
    'a gauge or a cross-section',
  );
  const diameterM =
    gauge === undefined ? Math.sqrt((4 * Number(crossSectionM2)) / Math.PI) : 0.127e-3 * 92 ** ((36 - gauge) / 39);
  const areaM2 = crossSectionM2 ?? (Math.PI * diameterM ** 2) / 4;
  const warm = 1 + COPPER_PER_K * (temperatureK - REFERENCE_K);
  return { diameterM, crossSectionM2: areaM2, resistanceOhm: ((COPPER_OHM_M * lengthM) / areaM2) * warm };
}
