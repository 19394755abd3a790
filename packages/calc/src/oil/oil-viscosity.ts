import { CalcInputError, requireFinite, requireThat, type CalcNote } from '../errors.js';
import { findRoot } from '../numeric/root.js';
import { PIECE_STARTS, toViscosityIndex } from './viscosity-index.js';

export interface OilViscosityInput {
  /** VG: ISO viscosity grade, mm²/s at 40 °C [1], 0 < VG */
  grade?: number | undefined;
  /** VI: viscosity index, with a grade [1], 0 <= VI */
  viscosityIndex: number;
  /** nu_40: kinematic viscosity at 40 °C [m2/s] */
  kinematicAt40M2PerS?: number | undefined;
  /** nu_100: kinematic viscosity at 100 °C [m2/s] */
  kinematicAt100M2PerS?: number | undefined;
  /** T: temperature of the oil [K] */
  temperatureK: number;
}
export interface OilViscosityResult {
  /** nu: kinematic viscosity at the temperature [m2/s] */
  kinematicViscosityM2PerS: number;
  /** nu_40: kinematic viscosity at 40 °C as used [m2/s] */
  kinematicAt40M2PerS: number;
  /** nu_100: kinematic viscosity at 100 °C as used [m2/s] */
  kinematicAt100M2PerS: number;
  notes: CalcNote[];
}

const STEPS_PER_PIECE = 64;
const THICKEST = 1e6;

/** The smallest viscosity at 100 °C (mm²/s) at which the index reaches a value: a root, or a border it jumps at. */
function findAt100(at40: number, wanted: number): number {
  const reached = (y: number, piece: number): number => toViscosityIndex(at40, y, piece) - wanted;
  requireThat(
    reached(Number(PIECE_STARTS[0]), 0) <= 0,
    'out-of-range',
    ['grade', 'viscosityIndex'],
    'an oil of at least 2 mm2/s at 100 Cel',
  );
  for (const [piece, from] of PIECE_STARTS.entries()) {
    const to = PIECE_STARTS[piece + 1] ?? THICKEST;
    if (reached(from, piece) >= 0) return from;
    for (let step = 0; step < STEPS_PER_PIECE; step += 1) {
      const low = from * (to / from) ** (step / STEPS_PER_PIECE);
      const high = from * (to / from) ** ((step + 1) / STEPS_PER_PIECE);
      if (reached(high, piece) >= 0) return findRoot((y) => reached(y, piece), low, high);
    }
  }
  throw new CalcInputError('no-result', ['grade', 'viscosityIndex'], 'a grade and an index that an oil can have');
}

const toLogLog = (viscosity: number): number => Math.log10(Math.log10(viscosity * 1e6 + 0.7));

/** Kinematic viscosity at a temperature through those at 40 and 100 °C [m2/s]; 0.3 mm²/s < at100 < at40. Ubbelohde–Walther, ASTM D341. */
export function toViscosityAt(at40: number, at100: number, temperatureK: number): number {
  const slope = (toLogLog(at40) - toLogLog(at100)) / (Math.log10(373.15) - Math.log10(313.15));
  const exponent = toLogLog(at40) - slope * (Math.log10(temperatureK) - Math.log10(313.15));
  return (10 ** (10 ** exponent) - 0.7) * 1e-6;
}

/**
 * Kinematic viscosity of an oil at a temperature, from two known viscosities or from its grade and viscosity index.
 *
 * @formula
 * T_40 = 313.15
 * T_100 = 373.15
 * B = (log10(log10(nu_40 * 1e6 + 0.7)) - log10(log10(nu_100 * 1e6 + 0.7))) / (log10(T_100) - log10(T_40))
 * nu = (10^(10^(log10(log10(nu_40 * 1e6 + 0.7)) - B * (log10(T) - log10(T_40)))  ) - 0.7) * 1e-6
 * @assumes Reference units: mm²/s and K. Grade alone: nu_40 = grade, nu_100 where `viscosity-index` reaches the index.
 * @range Good above 2 mm²/s; below a note says so. Cold oil near its pour point is thicker than this.
 * @throws CalcInputError inconsistent: not thinner at 100 °C than at 40 °C. out-of-range: too thin for the definition. not-finite: NaN or infinite input.
 * @example two-points
 * in  kinematicAt40M2PerS=32e-6 kinematicAt100M2PerS=5.4e-6 temperatureK=353.15
 * out kinematicViscosityM2PerS=8.533214691536163e-6
 * @source ASTM D341-09 (log-log law without the correction for low viscosities); published fit: 32 and 5.4 mm²/s give 8.5 at 80 °C.
 */
export function oilViscosity(input: OilViscosityInput): OilViscosityResult {
  requireFinite(input);
  const { grade, viscosityIndex, temperatureK } = input;
  const at40 = grade === undefined ? input.kinematicAt40M2PerS : grade * 1e-6;
  const at100 = grade === undefined ? input.kinematicAt100M2PerS : findAt100(grade, viscosityIndex) * 1e-6;
  requireThat(
    at40 !== undefined && at100 !== undefined,
    'inconsistent',
    ['grade', 'kinematicAt40M2PerS'],
    'a grade, or both viscosities',
  );
  const fields = grade === undefined ? ['kinematicAt40M2PerS', 'kinematicAt100M2PerS'] : ['grade', 'viscosityIndex'];
  requireThat(at100 < at40, 'inconsistent', fields, 'thinner at 100 Cel than at 40 Cel');
  requireThat(at100 * 1e6 > 0.3 + 1e-9, 'out-of-range', [String(fields[1])], 'above 0.3 mm2/s');
  const kinematicViscosityM2PerS = toViscosityAt(at40, at100, temperatureK);
  const notes: CalcNote[] = [];
  if (kinematicViscosityM2PerS < 2e-6) {
    notes.push({ code: 'below-viscosity-range', parameters: { kinematicViscosityM2PerS, limitM2PerS: 2e-6 } });
  }
  return { kinematicViscosityM2PerS, kinematicAt40M2PerS: at40, kinematicAt100M2PerS: at100, notes };
}
