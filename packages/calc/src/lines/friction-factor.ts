import { requireFinite, type CalcNote } from '../errors.js';

export type FlowRegime = 'laminar' | 'transitional' | 'turbulent';
export type FrictionMethod = 'line' | 'colebrook' | 'swamee-jain' | 'blasius';

const LAMINAR_BELOW = 2300;
const TURBULENT_ABOVE = 4000;

export interface FrictionFactorInput {
  /** Re: Reynolds number [1], 0 < Re */
  reynolds: number;
  /** eps: roughness over inner diameter [1], 0 <= eps < 1 */
  relativeRoughness: number;
  method: FrictionMethod;
}
export interface FrictionFactorResult {
  /** f: Darcy friction factor [1] */
  frictionFactor: number;
  regime: FlowRegime;
  notes: CalcNote[];
}

/** Root of x = −2·log10(ε/3.7 + 2.51·x/Re) in x = 1/√f by Newton's method, which converges from above at once. */
function solveColebrook(reynolds: number, relativeRoughness: number): number {
  const rough = relativeRoughness / 3.7;
  const slope = 2.51 / reynolds;
  let x = 1;
  for (let step = 0; step < 100; step += 1) {
    const inside = rough + slope * x;
    const value = x + 2 * Math.log10(inside);
    const next = x - value / (1 + (2 * slope) / (inside * Math.LN10));
    const safe = next > 0 ? next : x / 2;
    if (Math.abs(safe - x) <= 1e-15 * x) break;
    x = safe;
  }
  return 1 / (x * x);
}

function findRegime(reynolds: number): FlowRegime {
  if (reynolds < LAMINAR_BELOW) return 'laminar';
  return reynolds <= TURBULENT_ABOVE ? 'transitional' : 'turbulent';
}

function lineFactor(reynolds: number, relativeRoughness: number): number {
  const regime = findRegime(reynolds);
  if (regime === 'laminar') return 64 / reynolds;
  if (regime === 'turbulent') return solveColebrook(reynolds, relativeRoughness);
  const laminarEnd = 64 / LAMINAR_BELOW;
  const turbulentEnd = solveColebrook(TURBULENT_ABOVE, relativeRoughness);
  const share = (reynolds - LAMINAR_BELOW) / (TURBULENT_ABOVE - LAMINAR_BELOW);
  return laminarEnd + share * (turbulentEnd - laminarEnd);
}

const RANGES: Readonly<Record<Exclude<FrictionMethod, 'line'>, readonly [number, number]>> = {
  colebrook: [4e3, 1e8],
  'swamee-jain': [5e3, 1e8],
  blasius: [4e3, 1e5],
};

/**
 * Darcy friction factor of a round line by Reynolds number and relative roughness.
 *
 * @method line: 64/Re below 2300, Colebrook–White above 4000, between linear in Re between the two ends' values; colebrook: 1/√f = −2·log10(ε/3.7 + 2.51/(Re·√f)) solved to the last digits; swamee-jain: 0.25/log10(ε/3.7 + 5.74/Re^0.9)²; blasius: 0.3164/Re^0.25.
 * @residual 1 / sqrt(frictionFactor) + 2 * log10(relativeRoughness / 3.7 + 2.51 / (reynolds * sqrt(frictionFactor)))
 * @assumes Round, straight, full line; developed flow.
 * @range Between 2300 and 4000 the flow is either: the value there is an interpolation. Swamee–Jain 5e3…1e8, Blasius (smooth) 4e3…1e5, roughness up to 0.05: a note outside.
 * @throws CalcInputError not-finite: NaN or infinite input.
 * @example published
 * in  {"reynolds":100000,"relativeRoughness":0.0001,"method":"colebrook"}
 * out frictionFactor=0.01851386607747165
 * @source Colebrook 1939 (J. Inst. Civil Eng. 11:133); Swamee & Jain 1976; Blasius 1913; values from the tests of the open library fluids (CalebBell).
 */
export function frictionFactor(input: FrictionFactorInput): FrictionFactorResult {
  requireFinite(input);
  const { reynolds, relativeRoughness, method } = input;
  const notes: CalcNote[] = [];
  if (method !== 'line') {
    const [least, most] = RANGES[method];
    if (reynolds < least || reynolds > most)
      notes.push({ code: 'reynolds-outside-method', parameters: { reynolds, least, most } });
  }
  if (relativeRoughness > 0.05) notes.push({ code: 'rough-line', parameters: { relativeRoughness, limit: 0.05 } });
  const factors: Readonly<Record<FrictionMethod, () => number>> = {
    line: () => lineFactor(reynolds, relativeRoughness),
    colebrook: () => solveColebrook(reynolds, relativeRoughness),
    'swamee-jain': () => 0.25 / Math.log10(relativeRoughness / 3.7 + 5.74 / reynolds ** 0.9) ** 2,
    blasius: () => 0.3164 / reynolds ** 0.25,
  };
  const regime = findRegime(reynolds);
  if (regime === 'transitional' && method === 'line')
    notes.push({ code: 'transitional-flow', parameters: { reynolds } });
  return { frictionFactor: factors[method](), regime, notes };
}
