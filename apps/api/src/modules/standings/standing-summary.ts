import { CALCULATION_VERSION, type ProvedCheck, type PressureRung, type PressureLadderResult } from '@repo/calc';
import { toPressureLadder, type PressureMarks } from '@repo/contracts';
import type { StandingRow } from './standings-book.repository.js';
import { STATUS_RANK } from './status-rank.js';
import { standingSummary, type StandingSummary } from './stored-standing.js';

const worstFirst = (a: Pick<ProvedCheck, 'status'>, b: Pick<ProvedCheck, 'status'>): number =>
  STATUS_RANK[a.status] - STATUS_RANK[b.status];
const fold = (text: string): string => text.toLowerCase().normalize('NFKD').replaceAll(/\p{M}/gu, '');

function toMarks(result: PressureLadderResult): PressureMarks {
  const rung = (code: PressureRung['code']): PressureRung | undefined => result.rungs.find((one) => one.code === code);
  return {
    requiredPa: rung('required')?.pressurePa ?? null,
    resetPointPa: rung('reset-point')?.pressurePa ?? null,
    setPointPa: rung('set-point')?.pressurePa ?? null,
    settingPa: rung('setting')?.pressurePa ?? null,
    settingHalfWidthPa: rung('setting')?.halfWidthPa ?? null,
    highestPossiblePa: rung('highest-possible')?.pressurePa ?? null,
    workpieceLimitPa: rung('workpiece-limit')?.pressurePa ?? null,
    weakestRatingPa: result.rungs.find((one) => one.code === 'rating' && one.isWeakest)?.pressurePa ?? null,
  };
}

/** What is shown of a circuit that nobody has computed yet, without its names. */
export const NOT_COMPUTED: Omit<
  StandingSummary,
  'circuitName' | 'machineName' | 'customerName' | 'siteName' | 'place'
> = {
  marks: {
    requiredPa: null,
    resetPointPa: null,
    setPointPa: null,
    settingPa: null,
    settingHalfWidthPa: null,
    highestPossiblePa: null,
    workpieceLimitPa: null,
    weakestRatingPa: null,
  },
  checks: [],
  window: {
    lowPa: null,
    highPa: null,
    exists: null,
    settingLowestPa: null,
    settingHighestPa: null,
    resetLowestPa: null,
    resetHighestPa: null,
  },
  fixtureName: null,
  fixtureSince: null,
  settingsBasis: 'none',
  settingsOn: null,
};

/** A proof with what lists show beside it. */
export interface StandingProof {
  result: PressureLadderResult;
  settings: { basis: StandingSummary['settingsBasis']; on: Date | null };
  place: Pick<
    StandingSummary,
    'circuitName' | 'machineName' | 'customerName' | 'siteName' | 'place' | 'fixtureName'
  > & {
    circuitId: string;
    customerId: string;
    machineId: string;
    siteId: string;
    fixtureSince: Date | null;
  };
}

/** Before every demand over capacity: a rule that is broken has no degree. */
const WITHOUT_DEGREE = -1e9;

/** How far from safe the checks are that decide: by demand over capacity, then by probability. */
export function toRanks({ checks, status }: Pick<PressureLadderResult, 'checks' | 'status'>) {
  const deciding = checks.filter((check) => check.status === status);
  const ratios = deciding.map(({ ratio }) => (ratio === null ? (status === 'fails' ? WITHOUT_DEGREE : 0) : -ratio));
  const probabilities = deciding.flatMap(({ probability }) => (probability === null ? [] : [probability]));
  return { ratioRank: Math.min(0, ...ratios), probabilityRank: Math.min(1, ...probabilities) };
}

/** What a list needs to know of a circuit's proof. */
export function toStanding({ place, settings, result }: StandingProof): StandingRow {
  // Which fault breaks which rule is for the page of the circuit.
  const checks = toPressureLadder(result)
    .checks.map(({ faults: _, ...check }) => check)
    .sort(worstFirst);
  const worst = checks.find((check) => check.status === result.status) ?? checks[0];
  const { circuitId, customerId, machineId, siteId, fixtureName, fixtureSince, ...names } = place;
  const summary: StandingSummary = {
    ...names,
    marks: toMarks(result),
    checks,
    window: result.window,
    fixtureName,
    fixtureSince: fixtureSince?.toISOString() ?? null,
    settingsBasis: settings.basis,
    settingsOn: settings.on?.toISOString() ?? null,
  };
  return {
    circuitId,
    customerId,
    machineId,
    siteId,
    status: result.status,
    statusRank: STATUS_RANK[result.status],
    ...toRanks(result),
    sortKey: fold(`${names.customerName} ${names.machineName} ${names.circuitName}`),
    checkCode: worst?.code ?? null,
    reason: worst?.reason ?? 'missing',
    calculationVersion: CALCULATION_VERSION,
    summary: standingSummary.write(summary),
  };
}
