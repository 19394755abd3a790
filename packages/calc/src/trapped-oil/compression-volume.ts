import { requireFinite } from '../errors.js';

export interface CompressionVolumeInput {
  /** V: volume under pressure [m3], 0 <= V */
  volumeM3: number;
  /** K: bulk modulus of oil and walls [Pa], 0 < K */
  bulkModulusPa: number;
  /** p: gauge pressure reached [Pa], 0 <= p */
  pressurePa: number;
}
export interface CompressionVolumeResult {
  /** dV: oil to be added [m3] */
  oilVolumeM3: number;
}
/**
 * Oil that must be added to a full volume to bring it to a pressure.
 *
 * @formula
 * dV = V * p / K
 * @assumes Constant modulus.
 * @range Pressures well below the modulus.
 * @throws CalcInputError not-finite: NaN or infinite input.
 * @example litre
 * in  volumeM3=0.001 bulkModulusPa=1.4e9 pressurePa=17.5e6
 * out oilVolumeM3=1.25e-5
 * @source Definition of the bulk modulus.
 */
export function compressionVolume(input: CompressionVolumeInput): CompressionVolumeResult {
  requireFinite(input);
  return { oilVolumeM3: (input.volumeM3 * input.pressurePa) / input.bulkModulusPa };
}
