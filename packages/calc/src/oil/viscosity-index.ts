import { isBelow, requireFinite, requireThat } from '../errors.js';

/**
 * Quadratics L = aY² + bY + c and H = dY² + eY + f (mm²/s), each from its Y up to the next. Source: ASTM D2270, the
 * quadratic form as several public codes carry it (they agree with each other).
 */
const PIECES = [
  [2.0, 1.14673, 1.7576, -0.109, 0.84155, 1.5521, -0.077],
  [3.8, 3.38095, -15.4952, 33.196, 0.78571, 1.7929, -0.183],
  [4.4, 2.5, -7.2143, 13.812, 0.82143, 1.5679, 0.119],
  [5.0, 0.101, 16.635, -45.469, 0.04985, 9.1613, -18.557],
  [6.4, 3.35714, -23.5643, 78.466, 0.22619, 7.7369, -16.656],
  [7.0, 0.01191, 21.475, -72.87, 0.79762, -0.7321, 14.61],
  [7.7, 0.41858, 16.1558, -56.04, 0.05794, 10.5156, -28.24],
  [9.0, 0.88779, 7.5527, -16.6, 0.26665, 6.7015, -10.81],
  [12, 0.7672, 10.7972, -38.18, 0.20073, 8.4658, -22.49],
  [15, 0.97305, 5.3135, -2.2, 0.28889, 5.9741, -4.93],
  [18, 0.97256, 5.25, -0.98, 0.24504, 7.416, -16.73],
  [22, 0.91413, 7.4759, -21.82, 0.20323, 9.1267, -34.23],
  [28, 0.87031, 9.7157, -50.77, 0.18411, 10.1015, -46.75],
  [40, 0.84703, 12.6752, -133.31, 0.17029, 11.4866, -80.62],
  [55, 0.85921, 11.1009, -83.19, 0.1713, 11.368, -76.94],
  [70, 0.83531, 14.6731, -216.246, 0.16841, 11.8493, -96.947],
] as const;
type Piece = (typeof PIECES)[number];

export const PIECE_STARTS: readonly number[] = PIECES.map(([from]) => from);
const LEAST_AT_100 = 2;

function indexIn(piece: Piece, u: number, y: number): number {
  const [, a, b, c, d, e, f] = piece;
  const low = a * y * y + b * y + c;
  const high = d * y * y + e * y + f;
  if (u >= high) return (100 * (low - u)) / (low - high);
  return 100 + (10 ** (Math.log10(high / u) / Math.log10(y)) - 1) / 0.00715;
}

/** Viscosity index from mm²/s; `pieceIndex` left out: the piece that holds y. */
export function toViscosityIndex(u: number, y: number, pieceIndex?: number): number {
  const pieceOfY = PIECES.reduce((last, [from], index) => (y >= from ? index : last), 0);
  return indexIn(PIECES[pieceIndex ?? pieceOfY] as Piece, u, y);
}

export interface ViscosityIndexInput {
  /** U: kinematic viscosity at 40 °C [m2/s], 0 < U */
  kinematicAt40M2PerS: number;
  /** Y: kinematic viscosity at 100 °C [m2/s], 2e-6 <= Y < U */
  kinematicAt100M2PerS: number;
}
export interface ViscosityIndexResult {
  /** VI: viscosity index, not rounded [1] */
  viscosityIndex: number;
}
/**
 * Viscosity index of an oil from its kinematic viscosity at 40 and 100 °C.
 *
 * @method L and H by the quadratics of ASTM D2270 in Y (in mm²/s); U ≥ H: 100·(L − U)/(L − H); U < H: 100 + (10^N − 1)/0.00715 with N = log10(H/U)/log10(Y).
 * @residual viscosityIndex - 100 * (0.41858 * 8.86^2 + 16.1558 * 8.86 - 56.04 - 73.3) / ((0.41858 - 0.05794) * 8.86^2 + (16.1558 - 10.5156) * 8.86 - 56.04 + 28.24)
 * @assumes Reference units: mm²/s.
 * @range Y from 2 mm²/s. At a border between two pieces the index jumps by up to 0.5; against the standard's own table the two worked examples differ by 0.004 and 0.09.
 * @throws CalcInputError out-of-range: Y below 2 mm²/s. inconsistent: not thinner at 100 °C than at 40 °C. not-finite: NaN or infinite input.
 * @example worked
 * in  kinematicAt40M2PerS=73.3e-6 kinematicAt100M2PerS=8.86e-6
 * out viscosityIndex=92.4260193789443
 * @source ASTM D2270-10: quadratic form of L and H; worked examples 92 and 156.
 */
export function viscosityIndex(input: ViscosityIndexInput): ViscosityIndexResult {
  requireFinite(input);
  const { kinematicAt40M2PerS, kinematicAt100M2PerS } = input;
  const fields = ['kinematicAt40M2PerS', 'kinematicAt100M2PerS'];
  const y = kinematicAt100M2PerS * 1e6;
  requireThat(!isBelow(y, LEAST_AT_100), 'out-of-range', ['kinematicAt100M2PerS'], 'at least 2 mm2/s');
  requireThat(kinematicAt100M2PerS < kinematicAt40M2PerS, 'inconsistent', fields, 'thinner at 100 Cel than at 40 Cel');
  return { viscosityIndex: toViscosityIndex(kinematicAt40M2PerS * 1e6, y) };
}
