import { Injectable } from '@nestjs/common';
import type { ImportEntity } from '@repo/contracts';
import { Db, Prisma } from '../../platform/db/index.js';
import { TABLES, type RevisedEntity } from './entity-tables.js';
import type { WrittenRecord } from './touched-by.js';

/** What may have been hung on a record since: table, column, what to call it. */
const HANGS_ON: Partial<Record<ImportEntity, readonly (readonly [table: string, column: string, what: string])[]>> = {
  customer: [
    ['sites', 'customer_id', 'site'],
    ['fixtures', 'customer_id', 'fixture'],
    ['memberships', 'customer_id', 'person'],
  ],
  site: [
    ['machines', 'site_id', 'machine'],
    ['service_visits', 'site_id', 'visit'],
  ],
  machine: [
    ['stations', 'machine_id', 'station'],
    ['power_units', 'machine_id', 'power-unit'],
    ['circuits', 'machine_id', 'circuit'],
    ['installed_components', 'machine_id', 'installed-component'],
    ['issues', 'machine_id', 'issue'],
    ['service_events', 'machine_id', 'service-event'],
    ['commissioning_runs', 'machine_id', 'commissioning-run'],
    ['signals', 'machine_id', 'signal'],
    ['m_codes', 'machine_id', 'm-code'],
    ['source_machines', 'machine_id', 'source'],
    ['due_work', 'machine_id', 'due-work'],
  ],
  station: [
    ['circuits', 'station_id', 'circuit'],
    ['fixture_fittings', 'station_id', 'fixture-fitting'],
  ],
  'power-unit': [
    ['circuits', 'power_unit_id', 'circuit'],
    ['installed_components', 'power_unit_id', 'installed-component'],
  ],
  circuit: [
    ['installed_components', 'circuit_id', 'installed-component'],
    ['target_settings', 'circuit_id', 'target-setting'],
    ['setup_records', 'circuit_id', 'setup-record'],
    ['sizing_records', 'circuit_id', 'sizing-record'],
    ['issues', 'circuit_id', 'issue'],
    ['alarm_counts', 'circuit_id', 'alarm-counts'],
  ],
  fixture: [
    ['fixture_fittings', 'fixture_id', 'fixture-fitting'],
    ['operations', 'fixture_id', 'operation'],
  ],
  'installed-component': [['due_work', 'component_id', 'due-work']],
};
const SHOWN = 20;

export interface BuiltUpon {
  entityId: string;
  /** what was built: a kind of record, or `changed` */
  what: string;
}

/** Looks for what was built on an import, and takes settings back. */
@Injectable()
export class UndoRepository {
  constructor(private readonly db: Db) {}

  private get organisationId(): string {
    return this.db.actor.organisationId;
  }

  /** Records that somebody has changed since the import wrote them. */
  async findChangedSince(
    entity: ImportEntity,
    written: readonly { id: string; version: number }[],
  ): Promise<BuiltUpon[]> {
    if (written.length === 0) return [];
    const { table, life } = TABLES[entity];
    if (life === 'revisions') return this.findNewerRevisions(table, written);
    return this.db.tx.$queryRaw<BuiltUpon[]>`
      SELECT r.id AS "entityId", 'changed' AS what
      FROM jsonb_to_recordset(${JSON.stringify(written)}::jsonb) AS r (id uuid, version int)
      JOIN ${Prisma.raw(table)} t ON t.organisation_id = ${this.organisationId}::uuid AND t.id = r.id
      WHERE t.version <> r.version LIMIT ${SHOWN}`;
  }

  private findNewerRevisions(table: string, written: readonly { id: string }[]): Promise<BuiltUpon[]> {
    const ids = written.map(({ id }) => id);
    return this.db.tx.$queryRaw<BuiltUpon[]>`
      SELECT DISTINCT ON (w.circuit_id) w.id AS "entityId", 'newer-revision' AS what
      FROM ${Prisma.raw(table)} w
      JOIN ${Prisma.raw(table)} n ON n.organisation_id = w.organisation_id AND n.circuit_id = w.circuit_id
        AND n.revision > w.revision AND NOT n.id = ANY (${ids}::uuid[])
      WHERE w.organisation_id = ${this.organisationId}::uuid AND w.id = ANY (${ids}::uuid[]) LIMIT ${SHOWN}`;
  }

  /** Records of others that hang on ones that the import made. */
  async findHanging(entity: ImportEntity, made: readonly string[], ownIds: readonly string[]): Promise<BuiltUpon[]> {
    const found: BuiltUpon[] = [];
    const isImportable = (what: string): boolean => Object.hasOwn(TABLES, what);
    for (const [table, column, what] of made.length === 0 ? [] : (HANGS_ON[entity] ?? [])) {
      const rows = await this.db.tx.$queryRaw<{ entityId: string }[]>`
        SELECT DISTINCT c.${Prisma.raw(column)} AS "entityId" FROM ${Prisma.raw(table)} c
        WHERE c.organisation_id = ${this.organisationId}::uuid AND c.${Prisma.raw(column)} = ANY (${made}::uuid[])
          ${isImportable(what) ? Prisma.sql`AND NOT c.id = ANY (${ownIds}::uuid[])` : Prisma.empty} LIMIT ${SHOWN}`;
      found.push(...rows.map((row) => ({ ...row, what })));
    }
    return found;
  }

  async archive(entity: ImportEntity, rows: readonly { id: string; version: number }[]): Promise<number> {
    return this.db.tx.$executeRaw`
      UPDATE ${Prisma.raw(TABLES[entity].table)} t SET archived_at = now(), version = t.version + 1
      FROM jsonb_to_recordset(${JSON.stringify(rows)}::jsonb) AS r (id uuid, version int)
      WHERE t.organisation_id = ${this.organisationId}::uuid AND t.id = r.id AND t.version = r.version`;
  }

  /** Where records hang, by their ids. */
  async placesOf(
    entity: ImportEntity,
    ids: readonly string[],
  ): Promise<Map<string, Omit<WrittenRecord, 'comesOrGoes'>>> {
    const { table, links } = TABLES[entity];
    const place = (of: string) => Prisma.raw(links[of] ?? 'NULL::uuid');
    const rows = await this.db.tx.$queryRaw<Omit<WrittenRecord, 'comesOrGoes'>[]>`
      SELECT id, ${place('machine')} AS "machineId", ${place('power-unit')} AS "powerUnitId",
             ${place('circuit')} AS "circuitId", ${place('station')} AS "stationId"
      FROM ${Prisma.raw(table)}
      WHERE organisation_id = ${this.organisationId}::uuid AND id = ANY (${ids}::uuid[])`;
    return new Map(rows.map((row) => [row.id, row]));
  }

  /**
   * Settings are never removed: a further revision says what stood before the imported ones, or that nothing did.
   * @param why kept with the revision
   */
  async reviseBack(entity: RevisedEntity, ids: readonly string[], why: string): Promise<void> {
    const { table, fields } = TABLES[entity];
    const isSetup = entity === 'setup-record';
    const kept = new Set(['reason', 'measuredAt', 'reportName', 'measuredByName', 'gaugeClass', 'gaugeIdentity']);
    const copied = fields
      .filter((field) => !kept.has(field.field))
      .flatMap(({ column, entered }) => (entered === undefined ? [column] : [column, entered]));
    const names = copied.join(', ');
    const values = copied.map((column) => `p.${column}`).join(', ');
    const { actor } = this.db;
    const before = isSetup ? 'x.measured_at <= w.measured_at' : 'true';
    const order = isSetup ? 'x.measured_at DESC, x.revision DESC' : 'x.revision DESC';
    const extra = isSetup
      ? `, basis, fixture_id, measured_at, gauge_class, gauge_identity, report_name, measured_by_name, recorded_by, recorded_by_name`
      : `, released_by, released_by_name`;
    const extraValues = isSetup
      ? `, 'report', w.fixture_id, w.measured_at, coalesce(p.gauge_class, ''), coalesce(p.gauge_identity, ''),
         coalesce(p.report_name, w.report_name), coalesce(p.measured_by_name, w.measured_by_name)`
      : '';
    await this.db.tx.$executeRaw`
      INSERT INTO ${Prisma.raw(`${table} (organisation_id, customer_id, id, circuit_id, revision, reason, ${names}${extra})`)}
      SELECT w.organisation_id, w.customer_id, gen_random_uuid(), w.circuit_id,
             (SELECT max(m.revision) FROM ${Prisma.raw(table)} m
               WHERE m.organisation_id = w.organisation_id AND m.circuit_id = w.circuit_id)
             + row_number() OVER (PARTITION BY w.circuit_id ORDER BY w.revision)::int,
             ${why}, ${Prisma.raw(`${values}${extraValues}`)}, ${actor.membershipId}::uuid, ${actor.displayName}
      FROM ${Prisma.raw(table)} w
      LEFT JOIN LATERAL (
        SELECT x.* FROM ${Prisma.raw(table)} x
        WHERE x.organisation_id = w.organisation_id AND x.circuit_id = w.circuit_id AND NOT x.id = ANY (${ids}::uuid[])
          AND ${Prisma.raw(before)} ORDER BY ${Prisma.raw(order)} LIMIT 1) p ON true
      WHERE w.organisation_id = ${this.organisationId}::uuid AND w.id = ANY (${ids}::uuid[])`;
  }
}
