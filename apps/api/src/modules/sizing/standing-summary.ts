import type { LadderCheck, LadderRung, LadderStatus, PressureLadderResult } from '@repo/calc';
import { fromLadderResult, type LadderMarks, type Standing } from '@repo/contracts';
import type { CircuitLadder } from './ladder-input.js';
import type { StandingRow } from './standings.repository.js';

/** What a row of the list shows, besides how it stands. */
export type StandingSummary = Pick<
  Standing,
  | 'circuitName'
  | 'machineName'
  | 'customerName'
  | 'siteName'
  | 'place'
  | 'marks'
  | 'checks'
  | 'window'
  | 'fixtureName'
  | 'fixtureSince'
  | 'settingsBasis'
  | 'settingsOn'
>;

/** The order in which circuits need somebody. */
export const STATUS_RANK: Record<LadderStatus, number> = {
  fails: 0,
  marginal: 1,
  unproven: 2,
  holds: 3,
  'not-applicable': 4,
};

const worstFirst = (a: Pick<LadderCheck, 'status'>, b: Pick<LadderCheck, 'status'>): number =>
  STATUS_RANK[a.status] - STATUS_RANK[b.status];
const fold = (text: string): string => text.toLowerCase().normalize('NFKD').replaceAll(/\p{M}/gu, '');

function toMarks(result: PressureLadderResult): LadderMarks {
  const rung = (code: LadderRung['code']): LadderRung | undefined => result.rungs.find((one) => one.code === code);
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

/** What a list needs to know of a circuit's pressure ladder. */
export function toStanding(circuit: CircuitLadder, result: PressureLadderResult): StandingRow {
  const checks = [...fromLadderResult(result).checks].sort(worstFirst);
  const worst = checks.find((check) => check.status === result.status) ?? checks[0];
  const { facts, fixture, settings } = circuit;
  const summary: StandingSummary = {
    circuitName: facts.name,
    machineName: facts.machineName,
    customerName: facts.customerName,
    siteName: facts.siteName,
    place: facts.place,
    marks: toMarks(result),
    checks,
    window: result.window,
    fixtureName: fixture?.name ?? null,
    fixtureSince: fixture?.validFrom.toISOString() ?? null,
    settingsBasis: settings.basis,
    settingsOn: settings.on?.toISOString() ?? null,
  };
  return {
    circuitId: facts.id,
    customerId: facts.customerId,
    machineId: facts.machineId,
    siteId: facts.siteId,
    status: result.status,
    statusRank: STATUS_RANK[result.status],
    sortKey: fold(`${facts.customerName} ${facts.machineName} ${facts.name}`),
    checkCode: worst?.code ?? null,
    reason: worst?.reason ?? 'missing',
    summary,
  };
}
