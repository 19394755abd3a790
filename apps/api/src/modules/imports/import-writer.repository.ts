import { Injectable } from '@nestjs/common';
import { uuidv7 } from 'uuidv7';
import { Db, Prisma } from '../../platform/db/index.js';
import { chunksOf, lazily, oneAhead } from '../../platform/one-ahead.js';
import type { StoredColumns, ValueOf } from './derived-columns.js';
import { TABLES, type EntityTable, type TableEntity, type PeriodEntity, type RevisedEntity } from './entity-tables.js';
import type { QuantityValue } from './read-value.js';

/** Rows a statement: keeps statements and memory small, and lets progress be told. */
const CHUNK = 2_000;

export type ColumnValues = Record<string, unknown>;

export interface WrittenChange {
  entity: TableEntity;
  entityId: string;
  name: string;
  /** created; changed; ended (its place was taken); revised (a new revision of settings) */
  operation: 'created' | 'changed' | 'ended' | 'revised';
  before: ColumnValues;
  versionAfter: number;
}

export interface ImportAudit {
  action: string;
  entity: string;
  entityId: string;
  customerId: string | null;
  changes: unknown;
}

/**
 * A record's fields as its table has them.
 * @param before columns that hold several fields, as they are stored
 */
export function toColumns(entity: TableEntity, valueOf: ValueOf, before: StoredColumns | null): ColumnValues {
  const columns: ColumnValues = {};
  const { fields, derived = [] } = TABLES[entity];
  for (const { column, make } of derived) columns[column] = make(before, valueOf);
  for (const { field, column, entered, unit, fallback } of fields) {
    const value = valueOf(field);
    if (entered !== undefined || unit !== undefined) {
      const quantity = value as QuantityValue | null;
      columns[column] = quantity?.si ?? null;
      if (entered !== undefined) {
        columns[entered] =
          quantity === null ? null : { value: quantity.value, unit: quantity.unit, digits: quantity.digits };
      }
    } else columns[column] = value ?? fallback ?? null;
  }
  return columns;
}

interface TypedColumn {
  column: string;
  type: string;
}
const typed = ({ fields, derived = [] }: EntityTable): TypedColumn[] => [
  ...fields.flatMap(({ column, type, entered }) =>
    entered === undefined
      ? [{ column, type }]
      : [
          { column, type },
          { column: entered, type: 'jsonb' },
        ],
  ),
  ...derived.map(({ column, type }) => ({ column, type })),
];

/** Where it is kept why a record never was; an operation has no such column. */
const WITHDRAWN_BECAUSE: Readonly<Record<PeriodEntity, string | null>> = {
  'installed-component': 'removed_reason',
  operation: null,
  'fixture-fitting': 'reason',
};

/** Writes many records of one kind in few statements, through row security like any request. */
@Injectable()
export class ImportWriterRepository {
  constructor(private readonly db: Db) {}

  private get organisationId(): string {
    return this.db.actor.organisationId;
  }

  /**
   * One import, or undo, of an organisation at a time; the database lets it do what only an import may. Tables that this transaction has just filled have no statistics yet:
   * joined by nested loops they would be read once for every row, so these are avoided until `followNormally`.
   */
  async lock(importId: string): Promise<void> {
    await this.db.tx.$queryRaw`SELECT set_config('app.import_id', ${importId}, true)`;
    await this.db.tx.$queryRaw`SELECT set_config('enable_nestloop', 'off', true)`;
    await this.db.tx.$queryRaw`
      SELECT pg_advisory_xact_lock(hashtextextended(${`import ${this.organisationId}`}, 0))::text`;
  }

  /** Ends what `lock` asked of the planner. */
  async followNormally(): Promise<void> {
    await this.db.tx.$queryRaw`SELECT set_config('enable_nestloop', 'on', true)`;
  }

  /** @param extra columns beside the fields and links, with their types */
  async insert(
    entity: TableEntity,
    rows: Iterable<ColumnValues>,
    extra: Readonly<Record<string, string>> = {},
  ): Promise<void> {
    const { table, links } = TABLES[entity];
    const columns: TypedColumn[] = [
      ...('customer' in links ? [{ column: 'customer_id', type: 'uuid' }] : []),
      { column: 'id', type: 'uuid' },
      ...Object.values(links)
        .filter((column) => column !== 'customer_id')
        .map((column) => ({ column, type: 'uuid' })),
      ...typed(TABLES[entity]),
      ...Object.entries(extra).map(([column, type]) => ({ column, type })),
    ];
    await this.insertRows(table, columns, rows);
  }

  async insertRows(table: string, columns: readonly TypedColumn[], rows: Iterable<ColumnValues>): Promise<void> {
    const names = columns.map(({ column }) => column).join(', ');
    const shape = columns.map(({ column, type }) => `${column} ${type}`).join(', ');
    await oneAhead(
      lazily(chunksOf(rows, CHUNK), (chunk) => JSON.stringify(chunk)),
      (chunk) => this.db.tx.$executeRaw`
        INSERT INTO ${Prisma.raw(`${table} (organisation_id, ${names})`)}
        SELECT ${this.organisationId}::uuid, ${Prisma.raw(names)}
        FROM jsonb_to_recordset(${chunk}::jsonb) AS r (${Prisma.raw(shape)})`,
    );
  }

  /**
   * Sets all fields of records, and whether they are archived, where nobody has changed them meanwhile.
   * @returns how many were changed
   */
  async update(
    entity: TableEntity,
    rows: readonly (ColumnValues & { id: string; version: number; archived: boolean })[],
  ): Promise<number> {
    const { table, life } = TABLES[entity];
    const columns = typed(TABLES[entity]);
    const sets = columns.map(({ column }) => `${column} = r.${column}`);
    if (life === 'archived') {
      sets.push('archived_at = CASE WHEN r.archived THEN coalesce(t.archived_at, now()) END');
    }
    const shape = [
      ...columns.map(({ column, type }) => `${column} ${type}`),
      'id uuid',
      'version int',
      'archived bool',
    ].join(', ');
    let changed = 0;
    for (const chunk of chunksOf(rows, CHUNK)) {
      const written = await this.db.tx.$executeRaw`
        UPDATE ${Prisma.raw(`${table} t SET ${sets.join(', ')}, version = t.version + 1`)}
        FROM jsonb_to_recordset(${JSON.stringify(chunk)}::jsonb) AS r (${Prisma.raw(shape)})
        WHERE t.organisation_id = ${this.organisationId}::uuid AND t.id = r.id AND t.version = r.version`;
      changed += written;
    }
    return changed;
  }

  /** Ends periods, or opens them again (`validTo` null); how many were changed. */
  async setPeriodEnd(
    entity: PeriodEntity,
    rows: readonly { id: string; version: number; validTo: string | null; reason: string }[],
  ): Promise<number> {
    const reason = entity === 'installed-component' ? ', removed_reason = r.reason' : '';
    let changed = 0;
    for (const chunk of chunksOf(rows, CHUNK)) {
      const written = await this.db.tx.$executeRaw`
        UPDATE ${Prisma.raw(`${TABLES[entity].table} t SET valid_to = r."validTo"${reason}, version = t.version + 1`)}
        FROM jsonb_to_recordset(${JSON.stringify(chunk)}::jsonb) AS r (id uuid, version int, "validTo" timestamptz, reason text)
        WHERE t.organisation_id = ${this.organisationId}::uuid AND t.id = r.id AND t.version = r.version`;
      changed += written;
    }
    return changed;
  }

  /** Records that never were: their period is the shortest there is, so that no day shows them. */
  async withdraw(
    entity: PeriodEntity,
    rows: readonly { id: string; version: number; reason: string }[],
  ): Promise<number> {
    const column = WITHDRAWN_BECAUSE[entity];
    const reason = column === null ? '' : `${column} = r.reason, `;
    let changed = 0;
    for (const chunk of chunksOf(rows, CHUNK)) {
      const written = await this.db.tx.$executeRaw`
        UPDATE ${Prisma.raw(`${TABLES[entity].table} t SET ${reason}version = t.version + 1`)},
               valid_to = t.valid_from + interval '1 microsecond'
        FROM jsonb_to_recordset(${JSON.stringify(chunk)}::jsonb) AS r (id uuid, version int, reason text)
        WHERE t.organisation_id = ${this.organisationId}::uuid AND t.id = r.id AND t.version = r.version`;
      changed += written;
    }
    return changed;
  }

  /** New machines never stood anywhere. */
  async withdrawPlacements(machineIds: readonly string[]): Promise<void> {
    await this.db.tx.$executeRaw`
      UPDATE machine_placements SET valid_to = valid_from + interval '1 microsecond'
      WHERE organisation_id = ${this.organisationId}::uuid AND machine_id = ANY (${machineIds}::uuid[])`;
  }

  /** Where new machines stand from today. */
  async insertPlacements(rows: readonly { customerId: string; machineId: string; siteId: string }[]): Promise<void> {
    const placements = rows.map(({ customerId, machineId, siteId }) => ({
      customer_id: customerId,
      id: uuidv7(),
      machine_id: machineId,
      site_id: siteId,
      valid_from: new Date().toISOString(),
      reason: 'entered',
    }));
    const columns = [
      ...['customer_id', 'id', 'machine_id', 'site_id'].map((column) => ({ column, type: 'uuid' })),
      { column: 'valid_from', type: 'timestamptz' },
      { column: 'reason', type: 'text' },
    ];
    await this.insertRows('machine_placements', columns, placements);
  }

  /** The newest revision of each circuit's settings; 0 where there is none. */
  async newestRevisions(entity: RevisedEntity, circuitIds: readonly string[]): Promise<Map<string, number>> {
    const rows = await this.db.tx.$queryRaw<{ id: string; revision: number }[]>`
      SELECT circuit_id AS id, max(revision) AS revision FROM ${Prisma.raw(TABLES[entity].table)}
      WHERE organisation_id = ${this.organisationId}::uuid AND circuit_id = ANY (${circuitIds}::uuid[]) GROUP BY 1`;
    return new Map(rows.map((row) => [row.id, row.revision]));
  }

  /** The fixture that is on the circuit's station at an instant, by circuit and instant. */
  async fittedFixtures(at: readonly { circuitId: string; at: string }[]): Promise<(string | null)[]> {
    const rows = await this.db.tx.$queryRaw<{ n: number; fixtureId: string | null }[]>`
      SELECT r.n, (SELECT f.fixture_id FROM circuits c JOIN fixture_fittings f
                     ON f.organisation_id = c.organisation_id AND f.station_id = c.station_id
                   WHERE c.organisation_id = ${this.organisationId}::uuid AND c.id = r."circuitId"
                     AND f.valid_from <= r.at AND (f.valid_to IS NULL OR f.valid_to > r.at)
                   ORDER BY f.valid_from DESC LIMIT 1) AS "fixtureId"
      FROM jsonb_to_recordset(${JSON.stringify(at.map((one, n) => ({ ...one, n })))}::jsonb)
        AS r (n int, "circuitId" uuid, at timestamptz)`;
    const found: (string | null)[] = at.map(() => null);
    for (const row of rows) found[row.n] = row.fixtureId;
    return found;
  }

  async recordAudit(facts: Iterable<ImportAudit>, requestId: string): Promise<void> {
    const { actor } = this.db;
    const rows = lazily(facts, (fact) => ({
      id: uuidv7(),
      customer_id: fact.customerId,
      actor_membership_id: actor.membershipId,
      actor_name: actor.displayName,
      action: fact.action,
      entity: fact.entity,
      entity_id: fact.entityId,
      changes: fact.changes,
      request_id: requestId,
    }));
    const columns = [
      ...['id', 'customer_id', 'actor_membership_id', 'entity_id'].map((column) => ({ column, type: 'uuid' })),
      ...['actor_name', 'action', 'entity', 'request_id'].map((column) => ({ column, type: 'text' })),
      { column: 'changes', type: 'jsonb' },
    ];
    await this.insertRows('audit_entries', columns, rows);
  }

  async insertChanges(importId: string, changes: readonly WrittenChange[]): Promise<void> {
    const rows = lazily(changes, (change, sequence) => ({
      import_id: importId,
      sequence,
      entity: change.entity,
      entity_id: change.entityId,
      name: change.name,
      operation: change.operation,
      before: change.before,
      version_after: change.versionAfter,
    }));
    const columns = [
      ...['import_id', 'entity_id'].map((column) => ({ column, type: 'uuid' })),
      ...['sequence', 'version_after'].map((column) => ({ column, type: 'int' })),
      ...['entity', 'name', 'operation'].map((column) => ({ column, type: 'text' })),
      { column: 'before', type: 'jsonb' },
    ];
    await this.insertRows('import_changes', columns, rows);
  }
}
