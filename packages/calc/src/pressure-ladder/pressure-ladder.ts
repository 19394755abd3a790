import {
  checkHighestWithinRating,
  checkHoldsWorkpiece,
  checkNoNuisanceStop,
  checkWorkpieceLimit,
} from './pressure-checks.js';
import { findFigures, type PressureFigures } from './pressure-figures.js';
import { checkSettingWithinRating } from './setting-check.js';
import { listRungs } from './pressure-rungs.js';
import { findWindow } from './setting-window.js';
import type {
  ProvedCheck,
  PressureCheckCode,
  CheckStatus,
  PressureLadderInput,
  PressureLadderResult,
} from './pressure-ladder.types.js';

/** The rule of every check that pressures alone decide. */
export const PRESSURE_RULES: Readonly<Record<PressureCheckCode, (figures: PressureFigures) => ProvedCheck>> = {
  'holds-workpiece': checkHoldsWorkpiece,
  'no-nuisance-stop': checkNoNuisanceStop,
  'setting-within-rating': checkSettingWithinRating,
  'highest-within-rating': checkHighestWithinRating,
  'workpiece-limit': checkWorkpieceLimit,
};

const WORST_FIRST: readonly CheckStatus[] = ['fails', 'unproven', 'marginal', 'holds'];

/** The worst of the checks, those that do not apply left out. */
export function findWorstStatus(checks: readonly Pick<ProvedCheck, 'status'>[]): CheckStatus {
  return WORST_FIRST.find((status) => checks.some((check) => check.status === status)) ?? 'not-applicable';
}

/**
 * The pressure ladder of one circuit: its rungs, the window between them, and whether they stand in the right order.
 *
 * A figure that is not known is never replaced: a check that needs it is `unproven` and says what is missing, unless
 * what is known already breaks it (`fails`) or bounds it (`holds`). Not a number and infinity count as not known.
 * Never throws.
 */
export function pressureLadder(input: PressureLadderInput): PressureLadderResult {
  const figures = findFigures(input);
  const checks = Object.values(PRESSURE_RULES).map((rule) => rule(figures));
  return { status: findWorstStatus(checks), window: findWindow(figures), rungs: listRungs(figures), checks };
}
