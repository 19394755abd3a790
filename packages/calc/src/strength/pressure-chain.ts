import { isAtMost, requireFinite, requireThat } from '../errors.js';

export interface PressureChainPart {
  name: string;
  /** p_r: rated pressure [Pa], 0 < p_r */
  ratingPa: number;
  /** k: share of the rating left by temperature or age [1], 0 < k <= 1 */
  derating: number;
}
export interface PressureChainInput {
  /** p_s: working setting [Pa], 0 <= p_s */
  settingPa: number;
  /** b: half width of the setting [Pa], 0 <= b */
  settingTolerancePa: number;
  /** p_h: highest possible pressure [Pa], 0 <= p_h */
  highestPa: number;
  /** every part that sees the pressure, at least one */
  parts: readonly PressureChainPart[];
}
export interface PressureChainPartResult {
  name: string;
  /** r_s: setting with tolerance over capacity [1] */
  settingRatio: number;
  /** r_h: highest pressure over capacity [1] */
  highestRatio: number;
}
export interface PressureChainResult {
  weakest: {
    name: string;
    /** c: capacity of the weakest part, its rating less what the derating takes [Pa] */
    ratingPa: number;
    /** p_r: its rated pressure, before the derating [Pa] */
    typedPa: number;
  };
  /** r_s: setting with tolerance over the weakest capacity [1] */
  settingRatio: number;
  /** r_h: highest pressure over the weakest capacity [1] */
  highestRatio: number;
  adequate: boolean;
  perPart: PressureChainPartResult[];
}
/**
 * The weakest part of a line and how much of its rating the setting and the highest pressure use.
 *
 * @method Capacity of each part = rating × derating; the weakest has the least capacity (the first of equals).
 * @residual settingRatio - (settingPa + settingTolerancePa) / 10e6
 * @residual highestRatio - highestPa / 10e6
 * @assumes Static pressures; a part's rating as its maker states it, at the temperature that the derating stands for.
 * @range Adequate when both ratios are at most 1.
 * @throws CalcInputError out-of-range: no parts. not-finite: NaN or infinite input.
 * @example hose-is-weakest
 * in  {"settingPa":8e6,"settingTolerancePa":0.5e6,"highestPa":9e6,"parts":[{"name":"tube","ratingPa":25e6,"derating":1},{"name":"hose","ratingPa":12.5e6,"derating":0.8}]}
 * out settingRatio=0.85 highestRatio=0.9
 * @source No part above its rated pressure: principle of ISO 4413:2010 (clause from memory).
 */
export function pressureChain(input: PressureChainInput): PressureChainResult {
  requireFinite(input);
  const { settingPa, settingTolerancePa, highestPa, parts } = input;
  const [first, ...others] = parts;
  requireThat(first !== undefined, 'out-of-range', ['parts'], 'at least one part');
  const capacity = (part: PressureChainPart): number => part.ratingPa * part.derating;
  const weakest = others.reduce((least, part) => (isAtMost(capacity(least), capacity(part)) ? least : part), first);
  const toRatios = (part: PressureChainPart): PressureChainPartResult => ({
    name: part.name,
    settingRatio: (settingPa + settingTolerancePa) / capacity(part),
    highestRatio: highestPa / capacity(part),
  });
  const { settingRatio, highestRatio } = toRatios(weakest);
  return {
    weakest: { name: weakest.name, ratingPa: capacity(weakest), typedPa: weakest.ratingPa },
    settingRatio,
    highestRatio,
    adequate: isAtMost(settingRatio, 1) && isAtMost(highestRatio, 1),
    perPart: parts.map(toRatios),
  };
}
