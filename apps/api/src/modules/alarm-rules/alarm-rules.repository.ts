import { Injectable } from '@nestjs/common';
import { Db, type Prisma } from '../../platform/db/index.js';

const include = { circuit: { select: { name: true, machine: { select: { name: true } } } } } as const;

@Injectable()
export class AlarmRulesRepository {
  constructor(private readonly db: Db) {}

  private get organisationId(): string {
    return this.db.actor.organisationId;
  }

  private key(id: string) {
    return { organisationId_id: { organisationId: this.organisationId, id } };
  }

  find(id: string) {
    return this.db.tx.alarmRule.findUnique({ where: this.key(id), include });
  }

  /** The organisation's rule and those of circuits, of one machine alone on demand. */
  list(machineId: string | undefined, after: readonly (string | number)[] | null, limit: number) {
    return this.db.tx.alarmRule.findMany({
      where: {
        organisationId: this.organisationId,
        ...(machineId === undefined ? {} : { OR: [{ circuitId: null }, { circuit: { machineId } }] }),
        ...(after === null ? {} : { id: { gt: String(after[0]) } }),
      },
      include,
      orderBy: { id: 'asc' },
      take: limit + 1,
    });
  }

  findCircuit(id: string) {
    return this.db.tx.circuit.findUnique({ where: this.key(id), select: { customerId: true } });
  }

  async insert(data: Omit<Prisma.AlarmRuleUncheckedCreateInput, 'organisationId'>): Promise<void> {
    await this.db.tx.alarmRule.create({ data: { ...data, organisationId: this.organisationId } });
  }

  async update(id: string, version: number, data: Prisma.AlarmRuleUncheckedUpdateManyInput): Promise<boolean> {
    const { count } = await this.db.tx.alarmRule.updateMany({
      where: { organisationId: this.organisationId, id, version },
      data: { ...data, version: { increment: 1 } },
    });
    return count === 1;
  }

  async remove(id: string): Promise<void> {
    await this.db.tx.alarmRule.delete({ where: this.key(id) });
  }
}
export type RuleRow = NonNullable<Awaited<ReturnType<AlarmRulesRepository['find']>>>;
