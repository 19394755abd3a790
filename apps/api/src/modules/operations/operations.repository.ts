import { Injectable } from '@nestjs/common';
import type { InputOf, routes } from '@repo/contracts';
import { operationCut, type StoredCut } from '../../documents/operation-cut.js';
import { Db, json, quantityColumns, type Prisma } from '../../platform/db/index.js';

type Operations = typeof routes.operations;
type Fields = Omit<InputOf<Operations['create']>['body'], 'id' | 'fixtureId' | 'cut'> & {
  /** the cut, what was computed from it, and what was typed before */
  stored: StoredCut;
};

@Injectable()
export class OperationsRepository {
  constructor(private readonly db: Db) {}

  private get organisationId(): string {
    return this.db.actor.organisationId;
  }

  find(id: string) {
    return this.db.tx.operation.findUnique({
      where: { organisationId_id: { organisationId: this.organisationId, id } },
    });
  }

  list(
    filter: { fixtureId?: string | undefined; isCurrent: boolean },
    after: readonly (string | number)[] | null,
    limit: number,
  ) {
    return this.db.tx.operation.findMany({
      where: {
        organisationId: this.organisationId,
        ...(filter.fixtureId === undefined ? {} : { fixtureId: filter.fixtureId }),
        ...(filter.isCurrent ? { validTo: null } : {}),
        ...(after === null ? {} : { id: { gt: String(after[0]) } }),
      },
      orderBy: { id: 'asc' },
      take: limit + 1,
    });
  }

  listOfFixtures(fixtureIds: readonly string[], asOn: Date) {
    return this.db.tx.operation.findMany({
      where: {
        organisationId: this.organisationId,
        fixtureId: { in: [...fixtureIds] },
        validFrom: { lte: asOn },
        OR: [{ validTo: null }, { validTo: { gt: asOn } }],
      },
      orderBy: [{ number: 'asc' }, { id: 'asc' }],
    });
  }

  /** A fixture as it stays to the end of the transaction: what is computed from its elements must not outlive them unseen. */
  async findFixture(fixtureId: string) {
    const rows = await this.db.tx.$queryRaw<{ customerId: string; elements: unknown }[]>`
      SELECT customer_id AS "customerId", elements FROM fixtures
      WHERE organisation_id = ${this.organisationId}::uuid AND id = ${fixtureId}::uuid FOR SHARE`;
    return rows[0] ?? null;
  }

  /** Operations of a fixture whose required pressure is computed, as they are now. */
  listComputed(fixtureId: string) {
    return this.db.tx.operation.findMany({
      where: { organisationId: this.organisationId, fixtureId, validTo: null, requiredBasis: 'computed' },
      orderBy: [{ number: 'asc' }, { id: 'asc' }],
    });
  }

  /** A fixture with an operation, as it is now, that another version of the calculations computed; null: there is none. */
  async findOutdatedFixture(calculationVersion: string): Promise<string | null> {
    const rows = await this.db.tx.$queryRaw<{ fixtureId: string }[]>`
      SELECT fixture_id AS "fixtureId" FROM operations
      WHERE organisation_id = ${this.organisationId}::uuid AND valid_to IS NULL AND required_basis = 'computed'
        AND cut #>> '{computed,calculationVersion}' IS DISTINCT FROM ${calculationVersion}
      ORDER BY fixture_id LIMIT 1`;
    return rows[0]?.fixtureId ?? null;
  }

  async insert(
    operation: { id: string; customerId: string; fixtureId: string; version?: number },
    fields: Fields,
  ): Promise<void> {
    const { requiredPressure, workpieceLimit, validFrom, stored, ...plain } = fields;
    const data: Prisma.OperationUncheckedCreateInput = {
      ...operation,
      ...plain,
      cut: json(operationCut.write(stored)),
      organisationId: this.organisationId,
      validFrom: new Date(validFrom),
      recordedBy: this.db.actor.membershipId,
      ...quantityColumns('requiredPressurePa', 'requiredPressureEntered', 'pressure', requiredPressure),
      ...quantityColumns('workpieceLimitPa', 'workpieceLimitEntered', 'pressure', workpieceLimit),
    };
    await this.db.tx.operation.create({ data });
  }

  /** Ends the operation as it was; false when it was changed meanwhile. */
  async end(id: string, version: number, validTo: Date): Promise<boolean> {
    const { count } = await this.db.tx.operation.updateMany({
      where: { organisationId: this.organisationId, id, version, validTo: null },
      data: { validTo, version: { increment: 1 } },
    });
    return count === 1;
  }
}
export type OperationRow = NonNullable<Awaited<ReturnType<OperationsRepository['find']>>>;
