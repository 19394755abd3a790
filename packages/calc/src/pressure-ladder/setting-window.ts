import { findPressing, toBlockedRise } from './pressing-oil.js';
import type { PressureFigures } from './pressure-figures.js';
import { isReliefOfTrapped, listReliefs, toLowestOpening } from './relief-bounds.js';
import type { SettingWindow } from './pressure-ladder.types.js';
import { isAbove, isExact, known, leastOf, type Span } from './span.js';

/** null unless every figure is known */
function allKnown<K extends string>(figures: Readonly<Record<K, number | null>>): Record<K, number> | null {
  const entries = Object.entries<number | null>(figures);
  return entries.every(([, figure]) => known(figure) !== null) ? (figures as Record<K, number>) : null;
}

/** Highest setting that every rating, the relief and the workpiece leave room for, errors and margins included. */
function findSettingHighest(figures: PressureFigures): number | null {
  const { input, weakest, blocked, limit, rise } = figures;
  const { thermal, marginsAsked } = input;
  const reliefs = listReliefs(input);
  const errors = allKnown({ halfWidth: input.settingHalfWidthPa, gauge: input.gaugeErrorPa });
  if (!errors || !isExact(weakest.span) || !isExact(rise.span)) return null;
  const above = errors.halfWidth + errors.gauge;
  const highestShare = 1 - marginsAsked['highest-within-rating'];
  const bounds = [weakest.span.lo * (1 - marginsAsked['setting-within-rating']) - above];
  if (limit.isLimiting) {
    if (!isExact(limit.span)) return null;
    bounds.push(limit.span.lo * (1 - marginsAsked['workpiece-limit']) - above - rise.span.lo);
  }
  for (const relief of reliefs) {
    if (known(relief.openingPressurePa) === null) return null;
    bounds.push(toLowestOpening(relief).lo - above);
  }
  const isTrapUnrelieved = thermal.canTrap && !reliefs.some(isReliefOfTrapped);
  if (isTrapUnrelieved) bounds.push(weakest.span.lo * highestShare - above - rise.span.lo);
  for (const line of blocked) {
    if (!isExact(line.ratio) || !isExact(line.weakest.span)) return null;
    const bearsPa = line.weakest.span.lo * highestShare;
    if (line.relieved.hi <= bearsPa) continue;
    const pressing = findPressing(figures, line.pressedBy);
    const warm = toBlockedRise(pressing, line.ratio);
    if (!isExact(warm)) return null;
    const isWarmHarmless = pressing.bound.span.hi * line.ratio.lo <= bearsPa;
    bounds.push((bearsPa - (isWarmHarmless ? 0 : warm.lo)) / line.ratio.lo - above);
  }
  return known(Math.min(...bounds));
}

interface Fit {
  settingLowestPa: number;
  settingHighestPa: number;
  resetLowestPa: number;
  resetHighestPa: number;
}

/** Where setting and reset point would fit, by the worst-case lines of `switch-window`; null: nowhere, or not known. */
function findFit(figures: PressureFigures): Fit | null {
  const { input, required } = figures;
  const { hold, marginsAsked } = input;
  const settingHighestPa = findSettingHighest(figures);
  const values = allKnown({
    decay: hold.decayRatePaPerS,
    reaction: hold.reactionTimeS,
    accuracy: input.switchAccuracyPa,
    gauge: input.gaugeErrorPa,
    halfWidth: input.settingHalfWidthPa,
    setPoint: input.setPointPa,
    resetPoint: input.resetPointPa,
  });
  if (settingHighestPa === null || !values || !isExact(required.span)) return null;
  const { decay, reaction, accuracy, gauge, halfWidth, setPoint, resetPoint } = values;
  const deadband = setPoint - resetPoint;
  const errors = accuracy + gauge;
  const holdShare = 1 - marginsAsked['holds-workpiece'];
  const stopShare = 1 - marginsAsked['no-nuisance-stop'];
  const resetLowestPa = (required.span.lo + decay * reaction) / holdShare + errors;
  const settingLowestPa = (resetLowestPa + deadband + errors) / stopShare + halfWidth;
  const resetHighestPa = (settingHighestPa - halfWidth) * stopShare - errors - deadband;
  const fit = { settingLowestPa, settingHighestPa, resetLowestPa, resetHighestPa };
  const isUsable = Object.values(fit).every(Number.isFinite) && !isAbove(settingLowestPa, settingHighestPa);
  return isUsable ? fit : null;
}

/** From the governing required pressure to the least of the weakest rating and what the workpiece allows. */
export function findWindow(figures: PressureFigures): SettingWindow {
  const { required, limit, weakest } = figures;
  const high: Span = limit.isLimiting ? leastOf(weakest.span, limit.span) : weakest.span;
  let exists: boolean | null = null;
  if (required.unheld !== null || isAbove(required.span.lo, high.hi)) exists = false;
  else if (!isAbove(required.span.hi, high.lo)) exists = true;
  const nowhere = { settingLowestPa: null, settingHighestPa: null, resetLowestPa: null, resetHighestPa: null };
  return {
    lowPa: isExact(required.span) ? required.span.lo : null,
    highPa: isExact(high) && Number.isFinite(high.lo) ? high.lo : null,
    exists,
    ...(findFit(figures) ?? nowhere),
  };
}
