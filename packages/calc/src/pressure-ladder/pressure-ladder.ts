import {
  checkHighestWithinRating,
  checkHoldsWorkpiece,
  checkNoNuisanceStop,
  checkSettingWithinRating,
  checkWorkpieceLimit,
} from './ladder-checks.js';
import { findFigures, type LadderFigures } from './ladder-figures.js';
import { listRungs } from './ladder-rungs.js';
import { findWindow } from './ladder-window.js';
import type {
  LadderCheck,
  LadderCheckCode,
  LadderStatus,
  PressureLadderInput,
  PressureLadderResult,
} from './pressure-ladder.types.js';

/** The rule of every check that pressures alone decide. */
export const LADDER_RULES: Readonly<Record<LadderCheckCode, (figures: LadderFigures) => LadderCheck>> = {
  'holds-workpiece': checkHoldsWorkpiece,
  'no-nuisance-stop': checkNoNuisanceStop,
  'setting-within-rating': checkSettingWithinRating,
  'highest-within-rating': checkHighestWithinRating,
  'workpiece-limit': checkWorkpieceLimit,
};

const WORST_FIRST: readonly LadderStatus[] = ['fails', 'unproven', 'marginal', 'holds'];

/** The worst of the checks, those that do not apply left out. */
export function findWorstStatus(checks: readonly Pick<LadderCheck, 'status'>[]): LadderStatus {
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
  const checks = Object.values(LADDER_RULES).map((rule) => rule(figures));
  return { status: findWorstStatus(checks), window: findWindow(figures), rungs: listRungs(figures), checks };
}
