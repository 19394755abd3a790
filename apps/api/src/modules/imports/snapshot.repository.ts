import { Injectable } from '@nestjs/common';
import { Db, Prisma } from '../../platform/db/index.js';
import { quantityFrom } from '../../platform/http/quantity-out.js';
import { decimalsOf } from './decimals.js';
import { TABLES, type TableEntity, type FieldColumn } from './entity-tables.js';
import type { ComponentTypeFacts, Existing } from './plan-model.js';
import type { Value } from './read-value.js';

type Row = Record<string, unknown>;

export interface ComponentTypeRow extends ComponentTypeFacts {
  partNumber: string;
  archivedAt: Date | null;
}

function selectOf(field: FieldColumn): string {
  const entered = field.entered === undefined ? '' : `, ${field.entered}`;
  return field.type === 'date' ? `${field.column}::text AS ${field.column}` : `${field.column}${entered}`;
}

function valueOf(row: Row, { column, entered, unit, type }: FieldColumn): Value | null {
  const value = row[column];
  if (value === null || value === undefined) return null;
  if (entered !== undefined) {
    const typed = quantityFrom(row[entered]);
    if (typed === null) throw new Error(`${column} has a value in SI and none as it was entered`);
    return { value: typed.value, unit: typed.unit, digits: typed.digits ?? decimalsOf(typed.value), si: Number(value) };
  }
  if (unit !== undefined) return { value: Number(value), unit, digits: decimalsOf(Number(value)), si: Number(value) };
  if (type === 'timestamptz') return (value as Date).toISOString();
  return value as Value;
}

/** Reads what the organisation has of what a file may speak of, once, so that rows are compared in memory. */
@Injectable()
export class SnapshotRepository {
  constructor(private readonly db: Db) {}

  /** All records of a kind that are there; of settings the newest revision. */
  async list(entity: TableEntity): Promise<Existing[]> {
    const { table, fields, derived = [], links, life } = TABLES[entity];
    const kept = derived.map(({ column }) => column);
    const columns = [...new Set(Object.values(links)), ...fields.map(selectOf), ...kept].join(', ');
    const distinct = entity === 'target-setting' ? 'circuit_id' : 'circuit_id, measured_at, report_name';
    const text = {
      archived: `SELECT id, version, archived_at IS NOT NULL AS archived, ${columns} FROM ${table} WHERE organisation_id = `,
      period: `SELECT id, version, false AS archived, ${columns} FROM ${table} WHERE valid_to IS NULL AND organisation_id = `,
      revisions: `SELECT DISTINCT ON (${distinct}) id, revision AS version, false AS archived, ${columns} FROM ${table} WHERE organisation_id = `,
    }[life];
    const order = life === 'revisions' ? ` ORDER BY ${distinct}, revision DESC` : ' ORDER BY id';
    const rows = await this.db.tx.$queryRaw<Row[]>`
      ${Prisma.raw(text)}${this.db.actor.organisationId}::uuid${Prisma.raw(order)}`;
    return rows.map((row) => ({
      id: String(row.id),
      version: Number(row.version),
      archived: row.archived === true,
      links: Object.fromEntries(
        Object.entries(links).map(([link, column]) => [link, row[column] === null ? null : String(row[column])]),
      ),
      values: {
        ...Object.fromEntries(fields.map((field) => [field.field, valueOf(row, field)])),
        ...Object.assign({}, ...derived.map((one) => one.read(row[one.column], String(row.name ?? '')))),
      },
      derived: Object.fromEntries(kept.map((column) => [column, row[column]])),
    }));
  }

  /** Component types, the oldest last. */
  listTypes(): Promise<ComponentTypeRow[]> {
    return this.db.tx.componentType.findMany({
      where: { organisationId: this.db.actor.organisationId },
      select: { id: true, name: true, partNumber: true, kind: true, figures: true, archivedAt: true },
      orderBy: { id: 'desc' },
    });
  }
}
