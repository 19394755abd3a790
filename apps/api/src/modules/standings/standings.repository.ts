import { Injectable } from '@nestjs/common';
import { LONGEST_INTERVAL_S } from '@repo/contracts';
import { Db, Prisma } from '../../platform/db/index.js';

export interface StandingListRow {
  circuit_id: string;
  machine_id: string;
  customer_id: string;
  site_id: string;
  status: string;
  status_rank: number;
  sort_key: string;
  check_code: string | null;
  reason: string;
  /** names, marks and checks, kept in step with what they are taken from: a page joins nothing */
  summary: unknown;
  /** weeks ago -> alarms, of weeks in which anything was reported; null for people who may not read counts */
  alarms: Record<string, number> | null;
  open_issues: number;
  computed_at: Date;
  awaits_since: Date | null;
  ratio_rank: number;
  probability_rank: number;
  silent_since: Date | null;
}
export interface StandingFilter {
  statuses: readonly number[] | null;
  customerId: string | undefined;
  words: readonly string[];
  circuitIds?: readonly string[];
  after: readonly (string | number)[] | null;
  limit: number;
}

const HIGHEST = '\u{10FFFF}';
const DAY_MS = 86_400_000;

/** How circuits stand, as lists read it. */
@Injectable()
export class StandingsRepository {
  constructor(private readonly db: Db) {}

  private get organisationId(): string {
    return this.db.actor.organisationId;
  }

  /**
   * A page of standings, the worst first: within a status what is farthest from safe. Keyset on the index that it goes by; every condition is a plain comparison, so
   * that an index serves it under row security.
   */
  list(filter: StandingFilter): Promise<StandingListRow[]> {
    const o = this.organisationId;
    const where = [Prisma.sql`s.organisation_id = ${o}::uuid`];
    if (filter.customerId !== undefined) where.push(Prisma.sql`s.customer_id = ${filter.customerId}::uuid`);
    if (filter.circuitIds !== undefined) where.push(Prisma.sql`s.circuit_id = ANY (${filter.circuitIds}::uuid[])`);
    if (filter.statuses !== null) {
      const [lowest, highest] = [Math.min(...filter.statuses), Math.max(...filter.statuses)];
      where.push(
        lowest === highest
          ? Prisma.sql`s.status_rank = ${lowest}`
          : Prisma.sql`s.status_rank >= ${lowest} AND s.status_rank <= ${highest}`,
      );
    }
    for (const word of filter.words) {
      where.push(Prisma.sql`s.circuit_id IN (
        SELECT t.circuit_id FROM search_tokens t
        WHERE t.organisation_id = ${o}::uuid AND t.token >= ${word} AND t.token < ${word + HIGHEST})`);
    }
    if (filter.after !== null) {
      const [rank, ratio, probability, key, id] = filter.after;
      where.push(
        Prisma.sql`(s.status_rank, s.ratio_rank, s.probability_rank, s.sort_key, s.circuit_id)
          > (${rank}::int, ${ratio}::float8, ${probability}::float8, ${key}::text, ${id}::uuid)`,
      );
    }
    // A customer's people have no right to read alarm counts: for them the column says nothing. The outer bounds are the planner's, who
    // leaves out by them the months that are not asked for: as values, since what `now()` is, is known only once all are planned.
    const today = Date.now();
    const [since, until] = [new Date(today - 23 * DAY_MS), new Date(today + DAY_MS)];
    const alarms =
      this.db.actor.customerId === null
        ? Prisma.sql`(
            SELECT jsonb_object_agg(w.week, (
              SELECT coalesce(sum((SELECT sum(n.value::int) FROM jsonb_each_text(a.alarms) n)), 0) FROM alarm_counts a
              WHERE a.organisation_id = ${o}::uuid AND a.circuit_id = p.circuit_id AND a.prevails AND a.alarms <> '{}'
                AND a.from_at >= w.since AND a.from_at < w.since + interval '7 days'
                AND a.from_at >= ${since}::timestamptz AND a.from_at < ${until}::timestamptz))
            FROM (SELECT v.week, date_trunc('day', now()) - make_interval(days => 7 * (v.week + 1)) AS since
                  FROM generate_series(0, 2) AS v (week)) w
            WHERE (SELECT true FROM alarm_counts a
              WHERE a.organisation_id = ${o}::uuid AND a.circuit_id = p.circuit_id AND a.prevails
                AND a.from_at >= w.since AND a.from_at < w.since + interval '7 days'
                AND a.to_at > w.since AND a.to_at < w.since + interval '7 days' + make_interval(secs => ${LONGEST_INTERVAL_S}::float8)
                AND a.from_at >= ${since}::timestamptz AND a.from_at < ${until}::timestamptz LIMIT 1))`
        : Prisma.sql`NULL::jsonb`;
    const { text, values } = Prisma.sql`
      WITH page AS MATERIALIZED (
        SELECT s.* FROM circuit_standings s WHERE ${Prisma.join(where, ' AND ')}
        ORDER BY s.status_rank, s.ratio_rank, s.probability_rank, s.sort_key, s.circuit_id LIMIT ${filter.limit + 1})
      SELECT p.circuit_id, p.machine_id, p.customer_id, p.site_id, p.status, p.status_rank, p.sort_key, p.check_code, p.reason,
             p.summary, p.computed_at, p.awaits_since, p.ratio_rank, p.probability_rank, ${alarms} AS alarms,
             (SELECT r.silent_since FROM machine_reports r
               WHERE r.organisation_id = ${o}::uuid AND r.machine_id = p.machine_id) AS silent_since,
             (SELECT count(*)::int FROM issues i
               WHERE i.organisation_id = ${o}::uuid AND i.circuit_id = p.circuit_id AND i.state = 'open') AS open_issues
      FROM page p
      ORDER BY p.status_rank, p.ratio_rank, p.probability_rank, p.sort_key, p.circuit_id`;
    return this.db.sql.rows<StandingListRow>(text, values);
  }

  async counts(customerId: string | undefined): Promise<Map<string, number>> {
    const rows = await this.db.tx.standingCount.groupBy({
      by: ['status'],
      where: { organisationId: this.organisationId, ...(customerId === undefined ? {} : { customerId }) },
      _sum: { circuits: true },
    });
    return new Map(rows.map((row) => [row.status, row._sum.circuits ?? 0]));
  }
}
