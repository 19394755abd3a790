import { Injectable } from '@nestjs/common';
import { toldChanges, type AuditFact } from '../../platform/audit/audit.js';
import { Db, Prisma } from '../../platform/db/index.js';
import { chunksOf } from '../../platform/one-ahead.js';
import { OF_MACHINE, type Dependency } from './dependency.js';

/** So many things changed at once are locked by their organisation instead of machine by machine. */
const MANY = 500;

/** What was done to which record, and what it wrote as proofs look it up. */
export interface Change {
  done: Pick<AuditFact, 'entity' | 'entityId' | 'action' | 'changes' | 'before'>;
  touched: readonly Dependency[];
}

/** Pairs that one statement is asked about. */
const AT_ONCE = 5_000;

const isOfMachine = ({ entity }: Dependency): boolean => entity in OF_MACHINE;

/** Of an edit, what it changed; what is new, exchanged or gone is told by its name alone. */
const toldOf = (done: Change['done']): Record<string, unknown> => (done.before === undefined ? {} : toldChanges(done));

/** What proofs have looked up: of each circuit for its standing, of each sizing record for good. */
@Injectable()
export class DependenciesRepository {
  constructor(private readonly db: Db) {}

  private get organisationId(): string {
    return this.db.actor.organisationId;
  }

  /**
   * To the end of the transaction nobody else changes these facts, nor computes a circuit that hangs on them. Without it two changes at
   * once would each compute a circuit without the other's, and the later commit would win with a standing that is true of neither.
   */
  async lock(touched: readonly Dependency[]): Promise<void> {
    if (touched.length > MANY || !touched.every(isOfMachine)) {
      await this.db.tx.$queryRaw`
        SELECT pg_advisory_xact_lock(hashtextextended('facts ' || ${this.organisationId}, 0))::text`;
      return;
    }
    const idsOf = (table: string) =>
      touched.filter(({ entity }) => (OF_MACHINE as Record<string, string>)[entity] === table).map(({ id }) => id);
    await this.lockMachines(Prisma.sql`
      SELECT unnest(${idsOf('machines')}::uuid[]) AS machine_id
      UNION SELECT machine_id FROM power_units WHERE organisation_id = ${this.organisationId}::uuid AND id = ANY (${idsOf('power_units')}::uuid[])
      UNION SELECT machine_id FROM circuits WHERE organisation_id = ${this.organisationId}::uuid AND id = ANY (${idsOf('circuits')}::uuid[])
      UNION SELECT machine_id FROM stations WHERE organisation_id = ${this.organisationId}::uuid AND id = ANY (${idsOf('stations')}::uuid[])`);
  }

  /** The same for circuits that are to be computed. */
  async lockCircuits(circuitIds: readonly string[]): Promise<void> {
    await this.lockMachines(Prisma.sql`
      SELECT DISTINCT machine_id FROM circuits
      WHERE organisation_id = ${this.organisationId}::uuid AND id = ANY (${circuitIds}::uuid[])`);
  }

  private async lockMachines(machines: Prisma.Sql): Promise<void> {
    await this.db.tx.$queryRaw`
      SELECT pg_advisory_xact_lock_shared(hashtextextended('facts ' || ${this.organisationId}, 0))::text`;
    // In one order for everybody.
    await this.db.tx.$queryRaw`
      SELECT pg_advisory_xact_lock(key)::text
      FROM (SELECT hashtextextended('facts ' || machine_id, 0) AS key FROM (${machines}) m ORDER BY key) keys`;
  }

  /**
   * Circuits whose proofs looked these things up, for their standing or for a sizing record that counts, and circuits that are
   * themselves among them, in order of their ids.
   */
  async findReached(touched: readonly Dependency[]): Promise<string[]> {
    const reached = new Set<string>();
    for (const part of chunksOf(touched, AT_ONCE)) for (const id of await this.findReachedBy(part)) reached.add(id);
    return [...reached].sort();
  }

  private async findReachedBy(touched: readonly Dependency[]): Promise<string[]> {
    const circuitIds = touched.filter(({ entity }) => entity === 'circuit').map(({ id }) => id);
    const rows = await this.db.tx.$queryRaw<{ id: string }[]>`
      SELECT d.circuit_id AS id
      FROM jsonb_to_recordset(${JSON.stringify(touched)}::jsonb) AS t (entity text, id uuid)
      JOIN circuit_dependencies d ON d.organisation_id = ${this.organisationId}::uuid AND d.entity = t.entity AND d.entity_id = t.id
      UNION
      SELECT s.circuit_id
      FROM jsonb_to_recordset(${JSON.stringify(touched)}::jsonb) AS t (entity text, id uuid)
      JOIN sizing_dependencies d ON d.organisation_id = ${this.organisationId}::uuid AND d.entity = t.entity AND d.entity_id = t.id
      JOIN sizing_currencies s ON s.organisation_id = d.organisation_id AND s.sizing_record_id = d.sizing_record_id
        AND s.currency <> 'superseded'
      UNION
      SELECT id FROM circuits WHERE organisation_id = ${this.organisationId}::uuid AND id = ANY (${circuitIds}::uuid[])`;
    return rows.map(({ id }) => id);
  }

  /** Marks every sizing record that looked these things up as stale, with the changes as its reasons. */
  async markStale(changes: readonly Change[]): Promise<void> {
    const byWhom = { byName: this.db.actor.displayName, at: new Date().toISOString() };
    const rows = changes.flatMap(({ done, touched }) =>
      touched.map(({ entity, id }) => ({
        entity,
        id,
        reason: { entity: done.entity, entityId: done.entityId, change: done.action, changes: toldOf(done), ...byWhom },
      })),
    );
    for (const part of chunksOf(rows, AT_ONCE)) await this.markStaleBy(part);
  }

  private async markStaleBy(rows: readonly (Dependency & { reason: unknown })[]): Promise<void> {
    await this.db.tx.$executeRaw`
      WITH stale AS (
        SELECT d.sizing_record_id, jsonb_agg(DISTINCT t.reason) AS reasons
        FROM jsonb_to_recordset(${JSON.stringify(rows)}::jsonb) AS t (entity text, id uuid, reason jsonb)
        JOIN sizing_dependencies d ON d.organisation_id = ${this.organisationId}::uuid AND d.entity = t.entity AND d.entity_id = t.id
        GROUP BY d.sizing_record_id
      )
      UPDATE sizing_currencies s
      SET currency = CASE WHEN s.currency = 'superseded' THEN s.currency ELSE 'stale' END,
          reasons = jsonb_path_query_array(s.reasons || stale.reasons, '$[0 to 49]'),
          changed_at = now()
      FROM stale
      WHERE s.organisation_id = ${this.organisationId}::uuid AND s.sizing_record_id = stale.sizing_record_id`;
  }

  /** What the proofs of circuits looked up this time, in place of what they did before. */
  async replace(
    circuits: readonly { circuitId: string; customerId: string; dependencies: readonly Dependency[] }[],
  ): Promise<void> {
    const rows = circuits.flatMap(({ circuitId, customerId, dependencies }) =>
      dependencies.map(({ entity, id }) => ({ circuitId, customerId, entity, id })),
    );
    await this.db.tx.$executeRaw`
      WITH now_read AS MATERIALIZED (
        SELECT DISTINCT r."circuitId", r."customerId", r.entity, r.id
        FROM jsonb_to_recordset(${JSON.stringify(rows)}::jsonb) AS r ("circuitId" uuid, "customerId" uuid, entity text, id uuid)
      ), gone AS (
        DELETE FROM circuit_dependencies d
        WHERE d.organisation_id = ${this.organisationId}::uuid
          AND d.circuit_id = ANY (${circuits.map(({ circuitId }) => circuitId)}::uuid[])
          AND (d.circuit_id, d.entity, d.entity_id) NOT IN (SELECT "circuitId", entity, id FROM now_read)
      )
      INSERT INTO circuit_dependencies (organisation_id, customer_id, circuit_id, entity, entity_id)
      SELECT ${this.organisationId}::uuid, "customerId", "circuitId", entity, id FROM now_read
      ORDER BY "circuitId", entity, id
      ON CONFLICT DO NOTHING`;
  }
}
