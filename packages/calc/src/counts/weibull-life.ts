import { requireFinite, requireThat, type CalcNote } from '../errors.js';
import { findRoot } from '../numeric/root.js';

export interface WeibullLifeInput {
  /** lives of what failed, in days or plain, each > 0 */
  failures: readonly number[];
  /** ages of what has not failed, each > 0 */
  suspensions: readonly number[];
  method: 'ml' | 'rank';
}
export interface WeibullLifeResult {
  /** beta: shape [1] */
  shape: number;
  /** eta: scale, the life that 63.2 % fail within [1] */
  scale: number;
  /** B_10: life that 10 % fail within [1] */
  b10: number;
  notes: CalcNote[];
}

/** Σ t^β·ln t / Σ t^β over all, less 1/β, less the mean ln t of the failures: rises with β, zero at the likeliest. */
function fitByLikelihood(
  failures: readonly number[],
  suspensions: readonly number[],
): { shape: number; scale: number } {
  const longest = Math.max(...failures, ...suspensions);
  // In units of the longest life every power lies below one.
  const all = [...failures, ...suspensions].map((life) => Math.log(life / longest));
  const meanLog = failures.reduce((sum, life) => sum + Math.log(life / longest), 0) / failures.length;
  const score = (shape: number): number => {
    let weights = 0;
    let logs = 0;
    for (const log of all) {
      const weight = Math.exp(shape * log);
      weights += weight;
      logs += weight * log;
    }
    return logs / weights - 1 / shape - meanLog;
  };
  let high = 1;
  while (score(high) < 0 && high < 1e12) high *= 2;
  requireThat(score(high) >= 0, 'no-result', ['failures'], 'failures that differ more');
  let low = high;
  while (score(low) > 0) low /= 2;
  const shape = findRoot(score, low, high);
  const sum = all.reduce((total, log) => total + Math.exp(shape * log), 0);
  return { shape, scale: longest * (sum / failures.length) ** (1 / shape) };
}

/** Median ranks (i − 0.3)/(N + 0.4) with ranks adjusted for suspensions; ln t regressed on ln(−ln(1 − F)). */
function fitByRanks(failures: readonly number[], suspensions: readonly number[]): { shape: number; scale: number } {
  const items = [
    ...failures.map((life) => ({ life, hasFailed: true })),
    ...suspensions.map((life) => ({ life, hasFailed: false })),
  ].sort((a, b) => a.life - b.life || Number(b.hasFailed) - Number(a.hasFailed));
  const total = items.length;
  let rank = 0;
  const points: { x: number; y: number }[] = [];
  items.forEach(({ life, hasFailed }, index) => {
    if (!hasFailed) return;
    rank += (total + 1 - rank) / (1 + total - index);
    const share = (rank - 0.3) / (total + 0.4);
    points.push({ x: Math.log(-Math.log1p(-share)), y: Math.log(life) });
  });
  const meanX = points.reduce((sum, { x }) => sum + x, 0) / points.length;
  const meanY = points.reduce((sum, { y }) => sum + y, 0) / points.length;
  const covariance = points.reduce((sum, { x, y }) => sum + (x - meanX) * (y - meanY), 0);
  const variance = points.reduce((sum, { x }) => sum + (x - meanX) ** 2, 0);
  const slope = covariance / variance;
  return { shape: 1 / slope, scale: Math.exp(meanY - slope * meanX) };
}

/**
 * Weibull distribution of lives, some of them still running.
 *
 * @method ml: maximum likelihood with right-censored suspensions; rank: median ranks with adjusted ranks, ln t regressed on ln(−ln(1 − F)). B10 = scale·(−ln 0.9)^(1/shape).
 * @residual b10 - scale * (-log(0.9))^(1 / shape)
 * @residual shape - 1.1847360043213928
 * @assumes One mode of failure; suspensions unrelated to the failures.
 * @range The two methods can differ by half on few failures: name the method beside each number. Needs two different failures.
 * @throws CalcInputError out-of-range: fewer than two different failures. not-finite: NaN or infinite input.
 * @example six
 * in  {"failures":[4648,8917,150.1,2995,5298],"suspensions":[5225],"method":"ml"}
 * out shape=1.1847360043213928 scale=5490.984628367562
 * @source Maximum likelihood: NIST/SEMATECH e-Handbook 8.4; data of Lieblein & Zelen 1956 give 2.102 and 81.88. Median ranks: Bernard's approximation.
 */
export function weibullLife(input: WeibullLifeInput): WeibullLifeResult {
  requireFinite(input);
  const { failures, suspensions, method } = input;
  requireThat(new Set(failures).size >= 2, 'out-of-range', ['failures'], 'two different failures at least');
  const { shape, scale } = method === 'ml' ? fitByLikelihood(failures, suspensions) : fitByRanks(failures, suspensions);
  const notes: CalcNote[] =
    failures.length < 10 ? [{ code: 'few-failures', parameters: { failures: failures.length, usual: 10 } }] : [];
  return { shape, scale, b10: scale * (-Math.log(0.9)) ** (1 / shape), notes };
}
