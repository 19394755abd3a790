import { Injectable } from '@nestjs/common';
import { IMPORT_ENTITIES, type ImportEntity } from '@repo/contracts';
import { Db, Prisma } from '../../platform/db/index.js';
import { TABLES, type FieldColumn } from './entity-tables.js';
import { fold, type ComponentTypeFacts, type Existing, type Snapshot } from './plan-model.js';
import type { Value } from './read-value.js';

type Row = Record<string, unknown>;
type Found = Map<ImportEntity, Map<string, Existing>>;

const PER_LINK: Partial<Record<ImportEntity, string>> = {
  site: 'customer',
  fixture: 'customer',
  machine: 'site',
  station: 'machine',
  'power-unit': 'machine',
  circuit: 'machine',
  'installed-component': 'machine',
  'fixture-fitting': 'station',
  'target-setting': 'circuit',
  'setup-record': 'circuit',
};

function selectOf(field: FieldColumn): string {
  const entered = field.entered === undefined ? '' : `, ${field.entered}`;
  return field.type === 'date' ? `${field.column}::text AS ${field.column}` : `${field.column}${entered}`;
}

function valueOf(row: Row, { column, entered, unit, type }: FieldColumn): Value | null {
  const value = row[column];
  if (value === null || value === undefined) return null;
  if (entered !== undefined) {
    const typed = row[entered] as { value: number; unit: string; digits?: number };
    return { value: typed.value, unit: typed.unit, digits: typed.digits ?? decimalsOf(typed.value), si: Number(value) };
  }
  if (unit !== undefined) return { value: Number(value), unit, digits: decimalsOf(Number(value)), si: Number(value) };
  if (type === 'timestamptz') return (value as Date).toISOString();
  return value as Value;
}

const decimalsOf = (value: number): number => Math.min(15, String(value).split('.')[1]?.length ?? 0);

/** The natural key of a record: what it hangs on, and its name there. */
function keyOf(entity: ImportEntity, existing: Existing): string {
  const link = PER_LINK[entity];
  const within = link === undefined ? '' : `${existing.links[link] ?? ''}|`;
  const { values } = existing;
  if (entity === 'setup-record') return within + fold(`${String(values.measuredAt)}|${String(values.reportName)}`);
  return within + fold(String(values.name ?? values.designation ?? ''));
}

/** Reads what the organisation has of what a file may speak of, once, so that rows are compared in memory. */
@Injectable()
export class SnapshotRepository {
  constructor(private readonly db: Db) {}

  async read(entities: ReadonlySet<ImportEntity>): Promise<Snapshot> {
    const found: Found = new Map();
    for (const entity of IMPORT_ENTITIES) {
      found.set(entity, entities.has(entity) ? await this.readEntity(entity) : new Map());
    }
    const types = entities.has('installed-component') ? await this.readTypes() : new Map<string, ComponentTypeFacts>();
    const stations = new Map<string, number>();
    for (const { links, archived } of found.get('station')?.values() ?? []) {
      const machineId = links.machine ?? '';
      if (!archived) stations.set(machineId, (stations.get(machineId) ?? 0) + 1);
    }
    return {
      find: (entity, key) => found.get(entity)?.get(key),
      componentType: (name) => types.get(fold(name)),
      stationCount: (machineId) => stations.get(machineId) ?? 0,
    };
  }

  private async readEntity(entity: ImportEntity): Promise<Map<string, Existing>> {
    const { table, fields, links, life } = TABLES[entity];
    const columns = [...new Set(Object.values(links)), ...fields.map(selectOf)].join(', ');
    const distinct = entity === 'target-setting' ? 'circuit_id' : 'circuit_id, measured_at, report_name';
    const text = {
      archived: `SELECT id, version, archived_at IS NOT NULL AS archived, ${columns} FROM ${table} WHERE organisation_id = `,
      period: `SELECT id, version, false AS archived, ${columns} FROM ${table} WHERE valid_to IS NULL AND organisation_id = `,
      revisions: `SELECT DISTINCT ON (${distinct}) id, revision AS version, false AS archived, ${columns} FROM ${table} WHERE organisation_id = `,
    }[life];
    const order = life === 'revisions' ? ` ORDER BY ${distinct}, revision DESC` : ' ORDER BY id';
    const rows = await this.db.tx.$queryRaw<Row[]>`
      ${Prisma.raw(text)}${this.db.actor.organisationId}::uuid${Prisma.raw(order)}`;
    const found = new Map<string, Existing>();
    for (const row of rows) {
      const existing: Existing = {
        id: String(row.id),
        version: Number(row.version),
        archived: row.archived === true,
        links: Object.fromEntries(
          Object.entries(links).map(([link, column]) => [link, row[column] === null ? null : String(row[column])]),
        ),
        values: Object.fromEntries(fields.map((field) => [field.field, valueOf(row, field)])),
      };
      const key = keyOf(entity, existing);
      // Of two that differ in case alone, the one in use goes first.
      const before = found.get(key);
      if (before === undefined || (before.archived && !existing.archived)) found.set(key, existing);
    }
    return found;
  }

  private async readTypes(): Promise<Map<string, ComponentTypeFacts>> {
    const types = await this.db.tx.componentType.findMany({
      where: { organisationId: this.db.actor.organisationId, archivedAt: null },
      select: { id: true, name: true, partNumber: true },
      orderBy: { id: 'desc' },
    });
    const found = new Map<string, ComponentTypeFacts>();
    for (const { id, name, partNumber } of types) if (partNumber !== '') found.set(fold(partNumber), { id, name });
    for (const { id, name } of types) found.set(fold(name), { id, name });
    return found;
  }
}
