import { Injectable } from '@nestjs/common';
import type { InputOf, routes } from '@repo/contracts';
import { Db, quantityColumns } from '../../platform/db/index.js';
import { given } from './given.js';

type Wires = typeof routes.wires;
const include = { signal: { select: { machineId: true } } } as const;

const quantities = (body: InputOf<Wires['update']>['body']) => ({
  ...quantityColumns('crossSectionM2', 'crossSectionEntered', 'area', body.crossSection),
  ...quantityColumns('lengthM', 'lengthEntered', 'length', body.length),
});

@Injectable()
export class WiresRepository {
  constructor(private readonly db: Db) {}

  private get organisationId(): string {
    return this.db.actor.organisationId;
  }

  find(id: string) {
    return this.db.tx.wire.findUnique({
      where: { organisationId_id: { organisationId: this.organisationId, id } },
      include,
    });
  }

  list(machineId: string, after: readonly (string | number)[] | null, limit: number) {
    return this.db.tx.wire.findMany({
      where: {
        organisationId: this.organisationId,
        signal: { machineId, archivedAt: null },
        archivedAt: null,
        ...(after === null ? {} : { id: { gt: String(after[0]) } }),
      },
      include,
      orderBy: { id: 'asc' },
      take: limit + 1,
    });
  }

  async insert(customerId: string, body: InputOf<Wires['create']>['body']): Promise<void> {
    const { crossSection: _crossSection, length: _length, ...plain } = body;
    await this.db.tx.wire.create({
      data: { organisationId: this.organisationId, customerId, ...plain, ...quantities(body) },
    });
  }

  async update(id: string, version: number, body: InputOf<Wires['update']>['body']): Promise<boolean> {
    const { archived, crossSection: _crossSection, length: _length, ...plain } = body;
    const { count } = await this.db.tx.wire.updateMany({
      where: { organisationId: this.organisationId, id, version },
      data: { ...given(plain, archived), ...quantities(body), version: { increment: 1 } },
    });
    return count === 1;
  }
}
export type WireRow = NonNullable<Awaited<ReturnType<WiresRepository['find']>>>;
