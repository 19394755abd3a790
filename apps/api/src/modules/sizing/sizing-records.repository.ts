import { Injectable } from '@nestjs/common';
import { Db, Numbers, Prisma } from '../../platform/db/index.js';
import type { Dependency } from './dependency.js';

export interface SizingRow {
  id: string;
  number: number;
  circuit_id: string;
  circuit_name: string;
  machine_id: string;
  machine_name: string;
  basis: string;
  status: string;
  currency: string;
  reasons: unknown;
  sha256: Uint8Array;
  calculation_version: string;
  runtime_version: string;
  note: string;
  created_at: Date;
  created_by_name: string;
  canonical_text: string;
}

const columns = (withText: boolean) => Prisma.sql`
  r.id, r.number, r.circuit_id, c.name AS circuit_name, m.id AS machine_id, m.name AS machine_name, r.basis, r.status,
  s.currency, s.reasons, r.sha256, r.calculation_version, r.runtime_version, r.note, r.created_at, r.created_by_name,
  ${withText ? Prisma.sql`r.canonical_text` : Prisma.sql`''`} AS canonical_text`;
const FROM = Prisma.sql`
  FROM sizing_records r
  JOIN sizing_currencies s ON s.organisation_id = r.organisation_id AND s.sizing_record_id = r.id
  JOIN circuits c ON c.organisation_id = r.organisation_id AND c.id = r.circuit_id
  JOIN machines m ON m.organisation_id = c.organisation_id AND m.id = c.machine_id`;

@Injectable()
export class SizingRecordsRepository {
  constructor(
    private readonly db: Db,
    private readonly numbers: Numbers,
  ) {}

  async list(
    filter: { circuitId: string | undefined; machineId: string | undefined },
    after: readonly (string | number)[] | null,
    limit: number,
  ): Promise<SizingRow[]> {
    const where = [Prisma.sql`r.organisation_id = ${this.db.actor.organisationId}::uuid`];
    if (filter.circuitId !== undefined) where.push(Prisma.sql`r.circuit_id = ${filter.circuitId}::uuid`);
    if (filter.machineId !== undefined) where.push(Prisma.sql`c.machine_id = ${filter.machineId}::uuid`);
    if (after !== null) where.push(Prisma.sql`r.number < ${Number(after[0])}`);
    return this.db.tx.$queryRaw<SizingRow[]>`
      SELECT ${columns(false)} ${FROM} WHERE ${Prisma.join(where, ' AND ')} ORDER BY r.number DESC LIMIT ${limit + 1}`;
  }

  async find(id: string): Promise<SizingRow | null> {
    const rows = await this.db.tx.$queryRaw<SizingRow[]>`
      SELECT ${columns(true)} ${FROM}
      WHERE r.organisation_id = ${this.db.actor.organisationId}::uuid AND r.id = ${id}::uuid`;
    return rows[0] ?? null;
  }

  nextNumber(noun: string): Promise<number> {
    return this.numbers.next(noun);
  }

  /** Writes a record, makes it the current one of its circuit and basis, and keeps what it stands on. */
  async insert(
    record: {
      id: string;
      customerId: string;
      circuitId: string;
      number: number;
      basis: string;
      status: string;
      canonicalText: string;
      sha256: Buffer;
      calculationVersion: string;
      runtimeVersion: string;
      note: string;
    },
    dependencies: readonly Dependency[],
  ): Promise<void> {
    const { tx, actor } = this.db.current;
    const key = { organisationId: actor.organisationId, customerId: record.customerId };
    await tx.sizingRecord.create({
      data: {
        ...key,
        ...record,
        sha256: new Uint8Array(record.sha256),
        createdBy: actor.membershipId,
        createdByName: actor.displayName,
      },
    });
    await tx.$executeRaw`
      UPDATE sizing_currencies s SET currency = 'superseded', changed_at = now()
      FROM sizing_records r
      WHERE s.organisation_id = ${actor.organisationId}::uuid AND s.circuit_id = ${record.circuitId}::uuid
        AND s.currency <> 'superseded'
        AND r.organisation_id = s.organisation_id AND r.id = s.sizing_record_id AND r.basis = ${record.basis}`;
    await tx.sizingCurrency.create({
      data: { ...key, sizingRecordId: record.id, circuitId: record.circuitId, currency: 'current' },
    });
    await tx.sizingDependency.createMany({
      data: dependencies.map((one) => ({ ...key, sizingRecordId: record.id, entity: one.entity, entityId: one.id })),
    });
  }
}
