import { Injectable } from '@nestjs/common';
import { Db, Prisma } from '../../platform/db/index.js';

export interface SourceRow {
  id: string;
  name: string;
  last_heard_at: Date | null;
  clock_offset_s: number | null;
  silent_after_s: number;
  is_silent: boolean;
  machine_count: number;
  open_findings: number;
  created_at: Date;
  archived_at: Date | null;
  version: number;
}

/** Silences of so many days are looked for, and so many of them shown. */
const GAP_DAYS = 30;
const MOST_GAPS = 100;

@Injectable()
export class SourcesRepository {
  constructor(private readonly db: Db) {}

  private get organisationId(): string {
    return this.db.actor.organisationId;
  }

  private select(where: Prisma.Sql, tail: Prisma.Sql): Promise<SourceRow[]> {
    return this.db.tx.$queryRaw<SourceRow[]>`
      SELECT s.id, s.name, s.last_heard_at, s.clock_offset_s, s.silent_after_s, s.created_at, s.archived_at, s.version,
             coalesce(s.last_heard_at, s.created_at) < now() - make_interval(secs => s.silent_after_s) AS is_silent,
             (SELECT count(*)::int FROM source_machines m WHERE m.organisation_id = s.organisation_id AND m.source_id = s.id)
               AS machine_count,
             (SELECT count(*)::int FROM findings f WHERE f.organisation_id = s.organisation_id AND f.source_id = s.id
                AND f.state = 'open') AS open_findings
      FROM sources s WHERE s.organisation_id = ${this.organisationId}::uuid AND ${where} ${tail}`;
  }

  async find(id: string): Promise<SourceRow | null> {
    const [row] = await this.select(Prisma.sql`s.id = ${id}::uuid`, Prisma.empty);
    return row ?? null;
  }

  list(after: readonly (string | number)[] | null, limit: number, archived: boolean): Promise<SourceRow[]> {
    const kept = archived ? Prisma.sql`s.archived_at IS NOT NULL` : Prisma.sql`s.archived_at IS NULL`;
    const beyond =
      after === null ? Prisma.sql`true` : Prisma.sql`(s.name, s.id) > (${String(after[0])}, ${String(after[1])}::uuid)`;
    return this.select(Prisma.sql`${kept} AND ${beyond}`, Prisma.sql`ORDER BY s.name, s.id LIMIT ${limit + 1}`);
  }

  /** Jumps from delivery to delivery by as much as is no silence: what it costs does not grow with the deliveries. */
  listGaps(sourceId: string, silentAfterS: number): Promise<{ from_at: Date; to_at: Date | null }[]> {
    const ofSource = Prisma.sql`d.organisation_id = ${this.organisationId}::uuid AND d.source_id = ${sourceId}::uuid`;
    const silence = Prisma.sql`make_interval(secs => ${silentAfterS})`;
    return this.db.tx.$queryRaw<{ from_at: Date; to_at: Date | null }[]>`
      WITH RECURSIVE walk (at, gap_from) AS (
        SELECT min(d.received_at), NULL::timestamptz FROM deliveries d
        WHERE ${ofSource} AND d.received_at >= now() - make_interval(days => ${GAP_DAYS})
        UNION ALL
        SELECT CASE WHEN far.at > w.at THEN far.at ELSE next.at END, CASE WHEN far.at > w.at THEN NULL ELSE w.at END
        FROM walk w
        CROSS JOIN LATERAL (SELECT max(d.received_at) AS at FROM deliveries d
                            WHERE ${ofSource} AND d.received_at >= w.at AND d.received_at <= w.at + ${silence}) far
        CROSS JOIN LATERAL (SELECT min(d.received_at) AS at FROM deliveries d
                            WHERE ${ofSource} AND d.received_at > w.at + ${silence}) next
        WHERE w.at IS NOT NULL
      )
      SELECT gap_from AS from_at, at AS to_at FROM walk
      WHERE gap_from IS NOT NULL AND (at IS NOT NULL OR gap_from + ${silence} < now())
      ORDER BY gap_from DESC LIMIT ${MOST_GAPS}`;
  }

  async insert(body: { id: string; name: string; silentAfterS: number }): Promise<void> {
    await this.db.tx.source.create({ data: { ...body, organisationId: this.organisationId } });
  }

  async update(id: string, version: number, data: Prisma.SourceUncheckedUpdateManyInput): Promise<boolean> {
    const { count } = await this.db.tx.source.updateMany({
      where: { organisationId: this.organisationId, id, version },
      data: { ...data, version: { increment: 1 } },
    });
    return count === 1;
  }

  listSecrets(sourceId: string) {
    return this.db.tx.sourceSecret.findMany({
      where: {
        organisationId: this.organisationId,
        sourceId,
        OR: [{ expiresAt: null }, { expiresAt: { gt: new Date() } }],
      },
      select: { id: true, createdAt: true, expiresAt: true },
      orderBy: [{ createdAt: 'desc' }, { id: 'desc' }],
      take: 50,
    });
  }

  async insertSecret(secret: { id: string; sourceId: string; secretSealed: Uint8Array<ArrayBuffer> }): Promise<void> {
    await this.db.tx.sourceSecret.create({ data: { ...secret, organisationId: this.organisationId } });
  }

  /** Lets every live secret end then, or when it would have ended anyway. */
  async expireSecrets(sourceId: string, at: Date): Promise<void> {
    await this.db.tx.sourceSecret.updateMany({
      where: { organisationId: this.organisationId, sourceId, OR: [{ expiresAt: null }, { expiresAt: { gt: at } }] },
      data: { expiresAt: at },
    });
  }

  findMachine(machineId: string) {
    return this.db.tx.machine.findUnique({
      where: { organisationId_id: { organisationId: this.organisationId, id: machineId } },
      select: { customerId: true },
    });
  }

  async insertMapping(data: Omit<Prisma.SourceMachineUncheckedCreateInput, 'organisationId'>): Promise<void> {
    await this.db.tx.sourceMachine.create({ data: { ...data, organisationId: this.organisationId } });
  }

  findMapping(id: string) {
    return this.db.tx.sourceMachine.findUnique({
      where: { organisationId_id: { organisationId: this.organisationId, id } },
      include: { machine: { select: { name: true } }, customer: { select: { name: true } } },
    });
  }

  listMappings(sourceId: string, after: readonly (string | number)[] | null, limit: number) {
    return this.db.tx.sourceMachine.findMany({
      where: {
        organisationId: this.organisationId,
        sourceId,
        ...(after === null ? {} : { externalReference: { gt: String(after[0]) } }),
      },
      include: { machine: { select: { name: true } }, customer: { select: { name: true } } },
      orderBy: { externalReference: 'asc' },
      take: limit + 1,
    });
  }

  async removeMapping(id: string): Promise<void> {
    await this.db.tx.sourceMachine.delete({
      where: { organisationId_id: { organisationId: this.organisationId, id } },
    });
  }

  listDeliveries(sourceId: string, after: readonly (string | number)[] | null, limit: number) {
    const [receivedAt, id] = after ?? [];
    const beyond: Prisma.DeliveryWhereInput =
      after === null
        ? {}
        : {
            OR: [
              { receivedAt: { lt: new Date(String(receivedAt)) } },
              { receivedAt: new Date(String(receivedAt)), id: { lt: String(id) } },
            ],
          };
    return this.db.tx.delivery.findMany({
      where: { organisationId: this.organisationId, sourceId, ...beyond },
      orderBy: [{ receivedAt: 'desc' }, { id: 'desc' }],
      take: limit + 1,
    });
  }
}
export type MappingRow = NonNullable<Awaited<ReturnType<SourcesRepository['findMapping']>>>;
export type SecretRow = Awaited<ReturnType<SourcesRepository['listSecrets']>>[number];
