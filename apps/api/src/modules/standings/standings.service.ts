import { Injectable } from '@nestjs/common';
import { statusSchema, type InputOf, type routes, type Standing, type StandingCounts } from '@repo/contracts';
import { z } from 'zod';
import { Cursors } from '../../platform/http/cursor.js';
import { wordsOf } from '../../platform/search-words.js';
import { NOT_COMPUTED } from './standing-summary.js';
import { STATUS_RANK } from './status-rank.js';
import { StandingsBook } from './standings-book.js';
import { StandingsRepository, type StandingListRow } from './standings.repository.js';
import { standingSummary } from './stored-standing.js';

type Standings = typeof routes.standings;

/** `need` is all that does not plainly hold. */
function ranksOf(status: InputOf<Standings['list']>['query']['status']): readonly number[] | null {
  if (status === 'all') return null;
  if (status === 'need') return [STATUS_RANK.fails, STATUS_RANK.unproven];
  return [STATUS_RANK[status]];
}

const WEEKS_SHOWN = 3;
/** Oldest week first; a week without any report is null, not zero. */
const toWeeks = (alarms: StandingListRow['alarms']): (number | null)[] =>
  alarms === null
    ? []
    : Array.from({ length: WEEKS_SHOWN }, (_, index) => alarms[String(WEEKS_SHOWN - 1 - index)] ?? null);

const nameSchema = z.string().catch('?');
const namesSchema = z
  .object({
    circuitName: nameSchema,
    machineName: nameSchema,
    customerName: nameSchema,
    siteName: nameSchema,
    place: nameSchema,
  })
  .catch({ circuitName: '?', machineName: '?', customerName: '?', siteName: '?', place: '?' });

/** How a circuit stands; one of which that cannot be read is proved by nothing, and the others are listed all the same. */
function readStanding({ summary, status, check_code, reason }: StandingListRow) {
  const read = standingSummary.readOrNull(summary);
  if (read !== null) return { ...read, status: statusSchema.parse(status), checkCode: check_code, reason };
  const unknown = { status: 'unproven' as const, checkCode: null, reason: 'missing' };
  return { ...NOT_COMPUTED, ...namesSchema.parse(summary), ...unknown };
}

const toStanding = (row: StandingListRow): Standing => ({
  ...readStanding(row),
  circuitId: row.circuit_id,
  machineId: row.machine_id,
  customerId: row.customer_id,
  siteId: row.site_id,
  alarmsByWeek: toWeeks(row.alarms),
  silentSince: row.silent_since?.toISOString() ?? null,
  openIssues: row.open_issues,
  computedAt: row.computed_at.toISOString(),
  awaitsSince: row.awaits_since?.toISOString() ?? null,
});

/** How every circuit stands, for the lists. */
@Injectable()
export class StandingsService {
  constructor(
    private readonly repository: StandingsRepository,
    private readonly book: StandingsBook,
    private readonly cursors: Cursors,
  ) {}

  async list(query: InputOf<Standings['list']>['query']) {
    const words = wordsOf((query.search ?? '').toLowerCase()).slice(0, 5);
    const rows = await this.repository.list({
      statuses: ranksOf(query.status),
      customerId: query.customerId,
      words,
      after: this.cursors.read('standings', query.cursor, 5),
      limit: query.limit,
    });
    const page = this.cursors.page('standings', rows, query.limit, (row) => [
      row.status_rank,
      row.ratio_rank,
      row.probability_rank,
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
    const countOf = (status: string): number => found.get(status) ?? 0;
    const [holds, marginal, fails, unproven] = [
      countOf('holds'),
      countOf('marginal'),
      countOf('fails'),
      countOf('unproven'),
    ];
    const awaiting = await this.book.countAwaiting(customerId);
    return { holds, marginal, fails, unproven, total: holds + marginal + fails + unproven, awaiting };
  }
}
