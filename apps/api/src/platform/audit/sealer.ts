import { Injectable, Logger, type OnApplicationBootstrap, type OnModuleDestroy } from '@nestjs/common';
import { Db, type Transaction } from '../db/db.js';
import { Gate } from '../db/gate.js';
import { FIRST_HASH, sealOf, type SealableEntry } from './seal.js';

const EVERY_MS = 2_000;
const AT_ONCE = 500;

/**
 * Lays the audit entries of each organisation into one order and chains them by hash. Entries are committed with what they
 * tell of, unordered and without waiting for each other; the sealer follows within seconds. Several processes may run it:
 * a lock per organisation lets one work at a time.
 */
@Injectable()
export class AuditSealer implements OnApplicationBootstrap, OnModuleDestroy {
  private readonly log = new Logger(AuditSealer.name);
  private timer: NodeJS.Timeout | null = null;
  private running: Promise<void> = Promise.resolve();

  constructor(
    private readonly db: Db,
    private readonly gate: Gate,
  ) {}

  onApplicationBootstrap(): void {
    this.timer = setInterval(() => {
      this.running = this.running.then(() => this.sealAll());
    }, EVERY_MS);
    this.timer.unref();
  }

  async onModuleDestroy(): Promise<void> {
    if (this.timer !== null) clearInterval(this.timer);
    await this.running;
  }

  private async sealAll(): Promise<void> {
    try {
      const organisations = await this.gate.query<{ id: string }>('SELECT id FROM organisations ORDER BY id', []);
      for (const { id } of organisations) {
        while ((await this.seal(id)) === AT_ONCE);
      }
    } catch (error) {
      this.log.warn(`sealing waits for the next round: ${error instanceof Error ? error.message : String(error)}`);
    }
  }

  /** Seals what is not sealed yet; how many entries that were. */
  seal(organisationId: string): Promise<number> {
    return this.db.transaction({ organisationId, customerId: null, role: 'sealer' }, async (tx) => {
      await tx.$queryRaw`SELECT pg_advisory_xact_lock(hashtextextended(${`seal ${organisationId}`}, 0))::text`;
      const last = await tx.auditSeal.findFirst({ where: { organisationId }, orderBy: { sequence: 'desc' } });
      const entries = await this.unsealed(tx, organisationId, last?.sealedAt ?? null);
      let hash: Uint8Array = last?.hash ?? FIRST_HASH;
      let sequence = last?.sequence ?? 0;
      const seals = entries.map((entry) => {
        sequence += 1;
        const previousHash = hash;
        hash = sealOf(previousHash, sequence, entry);
        return {
          organisationId,
          sequence,
          auditEntryId: entry.id,
          previousHash: Buffer.from(previousHash),
          hash: Buffer.from(hash),
        };
      });
      if (seals.length > 0) await tx.auditSeal.createMany({ data: seals });
      return seals.length;
    });
  }

  /** Looks back one hour from the last seal: no transaction lives longer, so no entry can come in behind it. */
  private unsealed(tx: Transaction, organisationId: string, lastSealedAt: Date | null): Promise<SealableEntry[]> {
    const since = lastSealedAt === null ? new Date(0) : new Date(lastSealedAt.getTime() - 3_600_000);
    return tx.auditEntry.findMany({
      where: { organisationId, at: { gte: since }, auditSealsByAuditEntryId: { none: {} } },
      orderBy: [{ at: 'asc' }, { id: 'asc' }],
      take: AT_ONCE,
    });
  }
}
