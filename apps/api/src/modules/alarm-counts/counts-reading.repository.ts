import { Injectable } from '@nestjs/common';
import { LONGEST_INTERVAL_S } from '@repo/contracts';
import { Db } from '../../platform/db/index.js';

export interface MachineCircuit {
  id: string;
  name: string;
  time_zone: string;
  open_findings: number;
}

export interface CountsOfMachine {
  bucket: 'hour' | 'day';
  buckets: {
    circuitId: string;
    start: string;
    clampCycles: number;
    coveredS: number;
    lengthS: number;
    revised: number;
  }[];
  alarms: { circuitId: string; start: string; kind: string; count: number }[];
  gaps: { circuitId: string; from: string; to: string }[];
  revisions: {
    circuitId: string;
    from: string;
    to: string;
    revision: number;
    clampCycles: number;
    before: number;
  }[];
}

/** Up to here a chart is by the hour [s], if the reports are. */
const BY_THE_HOUR_S = 8 * 86_400;
const MOST_LISTED = 1_000;

/** Counts as people see them. */
@Injectable()
export class CountsReadingRepository {
  constructor(private readonly db: Db) {}

  /** null when there is no such machine; the time zone of its site comes with each circuit, and alone without circuits. */
  async findMachine(machineId: string): Promise<{ timeZone: string; circuits: MachineCircuit[] } | null> {
    const rows = await this.db.tx.$queryRaw<(Omit<MachineCircuit, 'id'> & { id: string | null })[]>`
      SELECT c.id, c.name, s.time_zone,
             (SELECT count(*)::int FROM findings f WHERE f.organisation_id = m.organisation_id AND f.circuit_id = c.id
                AND f.state = 'open') AS open_findings
      FROM machines m
      JOIN sites s ON s.organisation_id = m.organisation_id AND s.id = m.site_id
      LEFT JOIN circuits c ON c.organisation_id = m.organisation_id AND c.machine_id = m.id
      WHERE m.organisation_id = ${this.db.actor.organisationId}::uuid AND m.id = ${machineId}::uuid ORDER BY c.name, c.id`;
    const [first] = rows;
    if (first === undefined) return null;
    const circuits = rows.flatMap(({ id, ...rest }) => (id === null ? [] : [{ ...rest, id }]));
    return { timeZone: first.time_zone, circuits };
  }

  /** One pass over the reports of the stretch, whatever comes of it. */
  async read(circuitIds: readonly string[], from: Date, to: Date, timeZone: string): Promise<CountsOfMachine> {
    const spanS = (to.getTime() - from.getTime()) / 1000;
    const [row] = await this.db.tx.$queryRaw<{ found: CountsOfMachine }[]>`
      WITH report AS MATERIALIZED (
        SELECT a.circuit_id, a.from_at, a.to_at, a.revision, a.clamp_cycles, a.alarms, a.prevails
        FROM alarm_counts a
        WHERE a.organisation_id = ${this.db.actor.organisationId}::uuid AND a.circuit_id = ANY (${[...circuitIds]}::uuid[])
          AND a.from_at >= ${new Date(from.getTime() - LONGEST_INTERVAL_S * 1000)}::timestamptz AND a.from_at < ${to}::timestamptz
          AND a.to_at > ${from}::timestamptz AND a.to_at < ${new Date(to.getTime() + LONGEST_INTERVAL_S * 1000)}::timestamptz
      ),
      unit AS (
        SELECT CASE WHEN ${spanS}::float8 <= ${BY_THE_HOUR_S}
                      AND coalesce(max(to_at - from_at) FILTER (WHERE prevails) <= interval '1 hour', true)
                    THEN 'hour' ELSE 'day' END AS bucket FROM report
      ),
      prevailing AS MATERIALIZED (
        SELECT r.*, date_trunc(unit.bucket, greatest(r.from_at, ${from}::timestamptz), ${timeZone}::text) AS start,
               (SELECT o.clamp_cycles FROM report o WHERE o.circuit_id = r.circuit_id AND o.from_at = r.from_at AND o.to_at = r.to_at
                  AND o.revision < r.revision ORDER BY o.revision DESC LIMIT 1) AS before,
               lag(r.to_at) OVER (PARTITION BY r.circuit_id ORDER BY r.from_at) AS previous
        FROM report r CROSS JOIN unit WHERE r.prevails
      )
      SELECT json_build_object(
        'bucket', (SELECT bucket FROM unit),
        'buckets', (SELECT coalesce(json_agg(b), '[]') FROM (
          SELECT circuit_id AS "circuitId", start, sum(clamp_cycles) AS "clampCycles",
                 sum(extract(epoch FROM least(to_at, ${to}::timestamptz) - greatest(from_at, ${from}::timestamptz)))::float8 AS "coveredS",
                 extract(epoch FROM date_add(start, CASE WHEN (SELECT bucket FROM unit) = 'hour' THEN interval '1 hour'
                                                        ELSE interval '1 day' END, ${timeZone}::text) - start)::float8 AS "lengthS",
                 count(before)::int AS revised
          FROM prevailing GROUP BY 1, 2 ORDER BY 1, 2) b),
        'alarms', (SELECT coalesce(json_agg(k), '[]') FROM (
          SELECT circuit_id AS "circuitId", start, e.key AS kind, sum(e.value::bigint) AS count
          FROM prevailing CROSS JOIN LATERAL jsonb_each_text(alarms) e WHERE alarms <> '{}' GROUP BY 1, 2, 3 ORDER BY 1, 2, 3) k),
        'gaps', (SELECT coalesce(json_agg(g), '[]') FROM (
          SELECT circuit_id AS "circuitId", previous AS "from", from_at AS "to" FROM prevailing
          WHERE previous < from_at ORDER BY 2 DESC LIMIT ${MOST_LISTED}) g),
        'revisions', (SELECT coalesce(json_agg(v), '[]') FROM (
          SELECT circuit_id AS "circuitId", from_at AS "from", to_at AS "to", revision, clamp_cycles AS "clampCycles", before
          FROM prevailing WHERE before IS NOT NULL ORDER BY from_at DESC LIMIT ${MOST_LISTED}) v)
      ) AS found`;
    if (row === undefined) throw new Error('a statement without FROM gives one row');
    return row.found;
  }
}
