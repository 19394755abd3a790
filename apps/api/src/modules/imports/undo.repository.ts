import { Injectable } from '@nestjs/common';
import { Db, Prisma } from '../../platform/db/index.js';
import { TABLES, type TableEntity, type RevisedEntity } from './entity-tables.js';
import { IDENTITY } from './identity.js';
import type { WrittenRecord } from './touched-by.js';

/** What may have been hung on a record since: table, column, what to call it. */
const HANGS_ON: Partial<Record<TableEntity, readonly (readonly [table: string, column: string, what: string])[]>> = {
  'component-type': [['installed_components', 'component_type_id', 'installed-component']],
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
    ['m_codes', 'station_id', 'm-code'],
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
    ['alarm_rules', 'circuit_id', 'alarm-rule'],
    ['signals', 'circuit_id', 'signal'],
    ['service_events', 'circuit_id', 'service-event'],
    ['readings', 'circuit_id', 'reading'],
  ],
  fixture: [
    ['fixture_fittings', 'fixture_id', 'fixture-fitting'],
    ['operations', 'fixture_id', 'operation'],
  ],
  'installed-component': [
    ['due_work', 'component_id', 'due-work'],
    ['signals', 'component_id', 'signal'],
  ],
  'm-code': [['signals', 'm_code_id', 'signal']],
  signal: [['wires', 'signal_id', 'wire']],
};
const SHOWN = 20;
/** Told from others that are made under the same name; of the longest mark, 60 characters, the rest is left off. */
const toUndoneName = (column: string): string => `left(t.${column}, 44) || ' (undone ' || right(t.id::text, 6) || ')'`;
/** A wire hangs on its machine through its signal. */
const MACHINE_OF_WIRE = `(SELECT s.machine_id FROM signals s
  WHERE s.organisation_id = wires.organisation_id AND s.id = wires.signal_id)`;
/** What is archived, or was withdrawn, hangs on nothing any more. */
const LIVES: Readonly<Partial<Record<string, string>>> = {
  archived: 'c.archived_at IS NULL',
  period: "(c.valid_to IS NULL OR c.valid_to > c.valid_from + interval '1 microsecond')",
};
const livesOf = (what: string): Prisma.Sql => {
  const life = isImportable(what) ? LIVES[TABLES[what].life] : undefined;
  return life === undefined ? Prisma.empty : Prisma.raw(`AND ${life}`);
};
const isImportable = (what: string): what is TableEntity => Object.hasOwn(TABLES, what);

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
    entity: TableEntity,
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
  async findHanging(entity: TableEntity, made: readonly string[], ownIds: readonly string[]): Promise<BuiltUpon[]> {
    const found: BuiltUpon[] = [];
    for (const [table, column, what] of made.length === 0 ? [] : (HANGS_ON[entity] ?? [])) {
      const rows = await this.db.tx.$queryRaw<{ entityId: string }[]>`
        SELECT DISTINCT c.${Prisma.raw(column)} AS "entityId" FROM ${Prisma.raw(table)} c
        WHERE c.organisation_id = ${this.organisationId}::uuid AND c.${Prisma.raw(column)} = ANY (${made}::uuid[])
          ${isImportable(what) ? Prisma.sql`AND NOT c.id = ANY (${ownIds}::uuid[])` : Prisma.empty}
          ${livesOf(what)} LIMIT ${SHOWN}`;
      found.push(...rows.map((row) => ({ ...row, what })));
    }
    return found;
  }

  /** Archives records that never were; their names are free again. */
  async archive(entity: TableEntity, rows: readonly { id: string; version: number }[]): Promise<number> {
    const column = IDENTITY[entity].by ?? 'name';
    return this.db.tx.$executeRaw`
      UPDATE ${Prisma.raw(TABLES[entity].table)} t SET archived_at = now(), ${Prisma.raw(`${column} = ${toUndoneName(column)}`)}, version = t.version + 1
      FROM jsonb_to_recordset(${JSON.stringify(rows)}::jsonb) AS r (id uuid, version int)
      WHERE t.organisation_id = ${this.organisationId}::uuid AND t.id = r.id AND t.version = r.version`;
  }

  /** Where records hang, by their ids. */
  async placesOf(
    entity: TableEntity,
    ids: readonly string[],
  ): Promise<Map<string, Omit<WrittenRecord, 'comesOrGoes'>>> {
    const { table, links } = TABLES[entity];
    const place = (of: string) => Prisma.raw(links[of] ?? 'NULL::uuid');
    const rows = await this.db.tx.$queryRaw<Omit<WrittenRecord, 'comesOrGoes'>[]>`
      SELECT id, ${entity === 'wire' ? Prisma.raw(MACHINE_OF_WIRE) : place('machine')} AS "machineId", ${place('power-unit')} AS "powerUnitId",
             ${place('circuit')} AS "circuitId", ${place('station')} AS "stationId", ${place('fixture')} AS "fixtureId"
      FROM ${Prisma.raw(table)}
      WHERE organisation_id = ${this.organisationId}::uuid AND id = ANY (${ids}::uuid[])`;
    return new Map(rows.map((row) => [row.id, row]));
  }

  /**
   * Takes revisions of settings out of those that hold. A revision that covered them would be a reading that nobody took: each row is
   * kept as it was among what was undone, and only then goes.
   * @returns how many went
   */
  async takeOut(entity: RevisedEntity, importId: string, ids: readonly string[]): Promise<number> {
    const table = Prisma.raw(TABLES[entity].table);
    await this.db.tx.$executeRaw`
      INSERT INTO undone_settings (organisation_id, customer_id, id, import_id, entity, record)
      SELECT t.organisation_id, t.customer_id, t.id, ${importId}::uuid, ${entity}, to_jsonb(t)::text FROM ${table} t
      WHERE t.organisation_id = ${this.organisationId}::uuid AND t.id = ANY (${ids}::uuid[])`;
    return this.db.tx.$executeRaw`
      DELETE FROM ${table} WHERE organisation_id = ${this.organisationId}::uuid AND id = ANY (${ids}::uuid[])`;
  }
}
