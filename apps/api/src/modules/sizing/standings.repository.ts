import { Injectable } from '@nestjs/common';
import { LONGEST_INTERVAL_S } from '@repo/contracts';
import { Db, Prisma } from '../../platform/db/index.js';
import { STATUS_RANK } from './status-rank.js';

export interface StandingRow {
  circuitId: string;
  customerId: string;
  machineId: string;
  siteId: string;
  status: string;
  statusRank: number;
  sortKey: string;
  checkCode: string | null;
  reason: string;
  calculationVersion: string;
  summary: unknown;
}
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

@Injectable()
export class StandingsRepository {
  constructor(private readonly db: Db) {}

  private get organisationId(): string {
    return this.db.actor.organisationId;
  }

  async upsert(rows: readonly StandingRow[]): Promise<void> {
    if (rows.length === 0) return;
    await this.db.tx.$executeRaw`
      INSERT INTO circuit_standings AS s
        (organisation_id, customer_id, circuit_id, machine_id, site_id, status, status_rank, sort_key, check_code, reason,
         calculation_version, summary)
      SELECT ${this.organisationId}::uuid, r."customerId", r."circuitId", r."machineId", r."siteId", r.status, r."statusRank",
             r."sortKey", r."checkCode", r.reason, r."calculationVersion", r.summary
      FROM jsonb_to_recordset(${JSON.stringify(rows)}::jsonb) AS r ("customerId" uuid, "circuitId" uuid, "machineId" uuid,
        "siteId" uuid, status text, "statusRank" int, "sortKey" text, "checkCode" text, reason text, "calculationVersion" text, summary jsonb)
      ORDER BY r."circuitId"
      ON CONFLICT (organisation_id, circuit_id) DO UPDATE
      SET status = EXCLUDED.status, status_rank = EXCLUDED.status_rank, sort_key = EXCLUDED.sort_key,
          machine_id = EXCLUDED.machine_id, site_id = EXCLUDED.site_id, check_code = EXCLUDED.check_code,
          reason = EXCLUDED.reason, calculation_version = EXCLUDED.calculation_version, summary = EXCLUDED.summary, computed_at = now(),
          awaits_since = CASE WHEN s.awaits_since > now() THEN s.awaits_since END`;
  }

  /**
   * What stands as before a change says so, until it is computed by somebody who began after this. What stands nowhere yet begins to
   * wait, so that a large import is on the fleet at once.
   * @param unknown the summary of a circuit of which nothing is computed yet, without its names
   */
  async markAwaiting(circuitIds: readonly string[], unknown: StandingRow['summary']): Promise<void> {
    await this.db.tx.$executeRaw`
      INSERT INTO circuit_standings AS s
        (organisation_id, customer_id, circuit_id, machine_id, site_id, status, status_rank, sort_key, reason, summary, awaits_since)
      SELECT c.organisation_id, c.customer_id, c.id, m.id, m.site_id, 'unproven', ${STATUS_RANK.unproven},
             lower(k.name || ' ' || m.name || ' ' || c.name), 'missing',
             ${JSON.stringify(unknown)}::jsonb || jsonb_build_object('circuitName', c.name, 'machineName', m.name,
               'customerName', k.name, 'siteName', t.name, 'place', t.place), clock_timestamp()
      FROM circuits c
      JOIN machines m ON m.organisation_id = c.organisation_id AND m.id = c.machine_id
      JOIN sites t ON t.organisation_id = m.organisation_id AND t.id = m.site_id
      JOIN customers k ON k.organisation_id = c.organisation_id AND k.id = c.customer_id
      WHERE c.organisation_id = ${this.organisationId}::uuid AND c.id = ANY (${circuitIds}::uuid[])
        AND c.archived_at IS NULL AND m.archived_at IS NULL AND m.disposition = 'in-service'
      ORDER BY c.id
      ON CONFLICT (organisation_id, circuit_id) DO UPDATE SET awaits_since = clock_timestamp()`;
    await this.removeDeparted(circuitIds);
  }

  /** Circuits that wait, in order of their ids. */
  async listAwaiting(after: string | null, limit: number): Promise<string[]> {
    const rows = await this.db.tx.circuitStanding.findMany({
      where: {
        organisationId: this.organisationId,
        awaitsSince: { not: null },
        ...(after === null ? {} : { circuitId: { gt: after } }),
      },
      select: { circuitId: true },
      orderBy: { circuitId: 'asc' },
      take: limit,
    });
    return rows.map(({ circuitId }) => circuitId);
  }

  /** Circuits that wait while no job of their organisation is at work on them, and those of another calculation version. */
  async listForgotten(calculationVersion: string, limit: number): Promise<string[]> {
    const o = this.organisationId;
    const rows = await this.db.tx.$queryRaw<{ id: string }[]>`
      (SELECT circuit_id AS id FROM circuit_standings
       WHERE organisation_id = ${o}::uuid AND awaits_since IS NOT NULL AND NOT EXISTS (
         SELECT FROM jobs WHERE organisation_id = ${o}::uuid AND kind = 'standings-refresh' AND state IN ('queued', 'running'))
       LIMIT ${limit})
      UNION
      (SELECT circuit_id FROM circuit_standings
       WHERE organisation_id = ${o}::uuid AND calculation_version < ${calculationVersion} LIMIT ${limit})
      UNION
      (SELECT circuit_id FROM circuit_standings
       WHERE organisation_id = ${o}::uuid AND calculation_version > ${calculationVersion} LIMIT ${limit})
      LIMIT ${limit}`;
    return rows.map(({ id }) => id);
  }

  async countAwaiting(customerId: string | undefined): Promise<number> {
    return this.db.tx.circuitStanding.count({
      where: {
        organisationId: this.organisationId,
        awaitsSince: { not: null },
        ...(customerId === undefined ? {} : { customerId }),
      },
    });
  }

  /** Circuits of archived or departed machines stand nowhere. */
  async removeDeparted(circuitIds: readonly string[]): Promise<void> {
    await this.db.tx.$executeRaw`
      DELETE FROM circuit_standings s USING circuits c, machines m
      WHERE s.organisation_id = ${this.organisationId}::uuid AND s.circuit_id = ANY (${circuitIds}::uuid[])
        AND c.organisation_id = s.organisation_id AND c.id = s.circuit_id
        AND m.organisation_id = c.organisation_id AND m.id = c.machine_id
        AND (c.archived_at IS NOT NULL OR m.archived_at IS NOT NULL OR m.disposition <> 'in-service')`;
  }

  /** The words by which a circuit is found: of its machine, site, customer, fixture and components, departed lots included. */
  async refreshTokens(circuitIds: readonly string[]): Promise<void> {
    const o = this.organisationId;
    await this.db.tx.$executeRaw`
      DELETE FROM search_tokens WHERE organisation_id = ${o}::uuid AND circuit_id = ANY (${circuitIds}::uuid[])`;
    await this.db.tx.$executeRaw`
      INSERT INTO search_tokens (organisation_id, customer_id, token, circuit_id, kind)
      SELECT DISTINCT ${o}::uuid, w.customer_id, left(word, 80), w.circuit_id, w.kind
      FROM (
        SELECT c.customer_id, c.id AS circuit_id, 'machine' AS kind, concat_ws(' ', m.name, m.serial, m.model, c.name) AS text
          FROM circuits c JOIN machines m ON m.organisation_id = c.organisation_id AND m.id = c.machine_id
          WHERE c.organisation_id = ${o}::uuid AND c.id = ANY (${circuitIds}::uuid[])
        UNION ALL
        SELECT c.customer_id, c.id, 'place', concat_ws(' ', k.name, s.name, s.place)
          FROM circuits c JOIN machines m ON m.organisation_id = c.organisation_id AND m.id = c.machine_id
          JOIN sites s ON s.organisation_id = m.organisation_id AND s.id = m.site_id
          JOIN customers k ON k.organisation_id = c.organisation_id AND k.id = c.customer_id
          WHERE c.organisation_id = ${o}::uuid AND c.id = ANY (${circuitIds}::uuid[])
        UNION ALL
        SELECT c.customer_id, c.id, 'component', concat_ws(' ', t.name, t.part_number, i.designation, i.serial, i.lot)
          FROM circuits c
          JOIN installed_components i ON i.organisation_id = c.organisation_id AND i.circuit_id = c.id
          JOIN component_types t ON t.organisation_id = i.organisation_id AND t.id = i.component_type_id
          WHERE c.organisation_id = ${o}::uuid AND c.id = ANY (${circuitIds}::uuid[])
        UNION ALL
        -- Two plain joins, not one with OR: that would compare every circuit with every component.
        SELECT c.customer_id, c.id, 'component', concat_ws(' ', t.name, t.part_number, i.designation, i.serial, i.lot)
          FROM circuits c
          JOIN installed_components i ON i.organisation_id = c.organisation_id AND i.power_unit_id = c.power_unit_id
          JOIN component_types t ON t.organisation_id = i.organisation_id AND t.id = i.component_type_id
          WHERE c.organisation_id = ${o}::uuid AND c.id = ANY (${circuitIds}::uuid[])
        UNION ALL
        SELECT c.customer_id, c.id, 'fixture', x.name
          FROM circuits c
          JOIN fixture_fittings f ON f.organisation_id = c.organisation_id AND f.station_id = c.station_id AND f.valid_to IS NULL
          JOIN fixtures x ON x.organisation_id = f.organisation_id AND x.id = f.fixture_id
          WHERE c.organisation_id = ${o}::uuid AND c.id = ANY (${circuitIds}::uuid[])
      ) w
      CROSS JOIN LATERAL (
        SELECT part AS word FROM regexp_split_to_table(lower(w.text), '[[:space:]]+') AS part
        UNION SELECT bit FROM regexp_split_to_table(lower(w.text), '[^[:alnum:]]+') AS bit
      ) words
      WHERE word <> ''`;
  }

  /**
   * A page of standings, the worst first. Keyset on (status rank, sort key, circuit); every condition is a plain comparison, so
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
      const [rank, key, id] = filter.after;
      where.push(Prisma.sql`(s.status_rank, s.sort_key, s.circuit_id) > (${rank}::int, ${key}::text, ${id}::uuid)`);
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
              WHERE a.organisation_id = ${o}::uuid AND a.circuit_id = p.circuit_id AND a.stands AND a.alarms <> '{}'
                AND a.from_at >= w.since AND a.from_at < w.since + interval '7 days'
                AND a.from_at >= ${since}::timestamptz AND a.from_at < ${until}::timestamptz))
            FROM (SELECT v.week, date_trunc('day', now()) - make_interval(days => 7 * (v.week + 1)) AS since
                  FROM generate_series(0, 2) AS v (week)) w
            WHERE (SELECT true FROM alarm_counts a
              WHERE a.organisation_id = ${o}::uuid AND a.circuit_id = p.circuit_id AND a.stands
                AND a.from_at >= w.since AND a.from_at < w.since + interval '7 days'
                AND a.to_at > w.since AND a.to_at < w.since + interval '7 days' + make_interval(secs => ${LONGEST_INTERVAL_S}::float8)
                AND a.from_at >= ${since}::timestamptz AND a.from_at < ${until}::timestamptz LIMIT 1))`
        : Prisma.sql`NULL::jsonb`;
    return this.db.tx.$queryRaw<StandingListRow[]>`
      WITH page AS MATERIALIZED (
        SELECT s.* FROM circuit_standings s WHERE ${Prisma.join(where, ' AND ')}
        ORDER BY s.status_rank, s.sort_key, s.circuit_id LIMIT ${filter.limit + 1})
      SELECT p.circuit_id, p.machine_id, p.customer_id, p.site_id, p.status, p.status_rank, p.sort_key, p.check_code, p.reason,
             p.summary, p.computed_at, p.awaits_since, ${alarms} AS alarms,
             (SELECT count(*)::int FROM issues i
               WHERE i.organisation_id = ${o}::uuid AND i.circuit_id = p.circuit_id AND i.state = 'open') AS open_issues
      FROM page p
      ORDER BY p.status_rank, p.sort_key, p.circuit_id`;
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
