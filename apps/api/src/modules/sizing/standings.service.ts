import { Injectable } from '@nestjs/common';
import type { InputOf, routes, Standing, StandingCounts } from '@repo/contracts';
import { Cursors } from '../../platform/http/cursor.js';
import { notFound } from '../../platform/errors/app-error.js';
import { fromLadderResult } from '@repo/contracts';
import { LaddersService } from './ladders.service.js';
import { STATUS_RANK } from './standing-summary.js';
import { StandingsRepository, type StandingListRow } from './standings.repository.js';

type Circuits = typeof routes.circuits;

/** `need` is all that does not plainly hold. */
function ranksOf(status: InputOf<Circuits['standings']>['query']['status']): readonly number[] | null {
  if (status === 'all') return null;
  if (status === 'need') return [STATUS_RANK.fails, STATUS_RANK.unproven];
  return [STATUS_RANK[status]];
}

const toStanding = (row: StandingListRow): Standing => {
  const summary = row.summary as Pick<
    Standing,
    'marks' | 'checks' | 'window' | 'fixtureName' | 'fixtureSince' | 'settingsBasis' | 'settingsOn'
  >;
  return {
    circuitId: row.circuit_id,
    circuitName: row.circuit_name,
    machineId: row.machine_id,
    machineName: row.machine_name,
    customerId: row.customer_id,
    customerName: row.customer_name,
    siteId: row.site_id,
    siteName: row.site_name,
    place: row.place,
    status: row.status as Standing['status'],
    checkCode: row.check_code,
    reason: row.reason,
    ...summary,
    alarmsByWeek: row.alarms_by_week,
    openIssues: row.open_issues,
    computedAt: row.computed_at.toISOString(),
  };
};

@Injectable()
export class StandingsService {
  constructor(
    private readonly repository: StandingsRepository,
    private readonly ladders: LaddersService,
    private readonly cursors: Cursors,
  ) {}

  async list(query: InputOf<Circuits['standings']>['query']) {
    const words = (query.search ?? '')
      .toLowerCase()
      .split(/\s+/)
      .filter((word) => word !== '')
      .slice(0, 5);
    const rows = await this.repository.list({
      statuses: ranksOf(query.status),
      customerId: query.customerId,
      words,
      after: this.cursors.read('standings', query.cursor, 3),
      limit: query.limit,
    });
    const page = this.cursors.page('standings', rows, query.limit, (row) => [
      row.status_rank,
      row.sort_key,
      row.circuit_id,
    ]);
    return { items: page.rows.map(toStanding), nextCursor: page.nextCursor };
  }

  async ofCircuits(circuitIds: readonly string[]): Promise<Standing[]> {
    const filter = { statuses: null, customerId: undefined, words: [], after: null, limit: circuitIds.length };
    return (await this.repository.list({ ...filter, circuitIds })).map(toStanding);
  }

  async counts(customerId: string | undefined): Promise<StandingCounts> {
    const found = await this.repository.counts(customerId);
    const of = (status: string): number => found.get(status) ?? 0;
    const [holds, marginal, fails, unproven] = [of('holds'), of('marginal'), of('fails'), of('unproven')];
    return { holds, marginal, fails, unproven, total: holds + marginal + fails + unproven };
  }

  async ladderOf(circuitId: string, query: InputOf<Circuits['pressureLadder']>['query']) {
    const asOn = query.asOn === undefined ? undefined : new Date(query.asOn);
    const [ladder] = await this.ladders.compute([circuitId], query.basis, asOn);
    if (ladder === undefined) throw notFound();
    return {
      settings: { ...ladder.settings, on: ladder.settings.on?.toISOString() ?? null },
      ladder: fromLadderResult(ladder.result),
    };
  }
}
