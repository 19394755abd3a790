import { Readable } from 'node:stream';
import { Injectable } from '@nestjs/common';
import { Db, Prisma } from '../../platform/db/index.js';
import type { ExportedTable } from './export-columns.js';
import type { ExportRow } from './to-cells.js';

/** A job that may be an export with a file. */
export interface ExportJob {
  isFinishedExport: boolean;
  result: unknown;
}

@Injectable()
export class ExportsRepository {
  constructor(private readonly db: Db) {}

  get asker() {
    return this.db.actor;
  }

  private get organisationId(): string {
    return this.db.actor.organisationId;
  }

  private where({ where }: ExportedTable): Prisma.Sql {
    const ofOrganisation = Prisma.sql`t.organisation_id = ${this.organisationId}::uuid`;
    return where === undefined ? ofOrganisation : Prisma.sql`${ofOrganisation} AND ${Prisma.raw(`(${where})`)}`;
  }

  async count(source: ExportedTable): Promise<number> {
    const [row] = await this.db.tx.$queryRaw<{ rows: bigint }[]>`
      SELECT count(*) AS rows FROM ${Prisma.raw(source.from)} WHERE ${this.where(source)}`;
    return Number(row?.rows ?? 0);
  }

  /** Whether there are no more than so many, without counting the rest. */
  async isAtMost(source: ExportedTable, most: number): Promise<boolean> {
    const [row] = await this.db.tx.$queryRaw<{ rows: bigint }[]>`
      SELECT count(*) AS rows
      FROM (SELECT 1 FROM ${Prisma.raw(source.from)} WHERE ${this.where(source)} LIMIT ${most + 1}) few`;
    return Number(row?.rows ?? 0) <= most;
  }

  /** The names in the documents of a column, in order, at most so many. */
  async listKinds(source: ExportedTable, sql: string, most: number): Promise<string[]> {
    const rows = await this.db.tx.$queryRaw<{ kind: string }[]>`
      SELECT DISTINCT k.kind COLLATE "C" AS kind
      FROM ${Prisma.raw(source.from)} CROSS JOIN LATERAL jsonb_object_keys(${Prisma.raw(sql)}) AS k (kind)
      WHERE ${this.where(source)} ORDER BY 1 LIMIT ${most}`;
    return rows.map(({ kind }) => kind);
  }

  /** The rows behind a key, in its order; with them the key that the next page goes on behind. */
  async page(
    source: ExportedTable,
    after: readonly string[] | null,
    limit: number,
  ): Promise<{ rows: ExportRow[]; last: string[] | null }> {
    const { columns, key, timeZone } = source;
    const cells = columns.flatMap(({ sql, type, entered }, index) => [
      // A day has no zone: as text it is not moved by any.
      `${sql}${type === 'date' ? '::text' : ''} AS c${index}`,
      ...(entered === undefined ? [] : [`${entered} AS e${index}`]),
    ]);
    const keys = key.map(({ sql }, index) => `${sql}::text AS k${index}`);
    const select = [...keys, ...cells, ...(timeZone === undefined ? [] : [`${timeZone} AS zone`])].join(', ');
    const order = key.map(({ sql }) => sql).join(', ');
    const behind =
      after === null
        ? Prisma.empty
        : Prisma.sql`AND (${Prisma.raw(order)}) > (${Prisma.join(
            key.map(({ cast }, index) => Prisma.sql`${after[index]}::text::${Prisma.raw(cast)}`),
          )})`;
    const rows = await this.db.tx.$queryRaw<ExportRow[]>`
      SELECT ${Prisma.raw(select)} FROM ${Prisma.raw(source.from)} WHERE ${this.where(source)} ${behind}
      ORDER BY ${Prisma.raw(order)} LIMIT ${limit}`;
    const end = rows.at(-1);
    return { rows, last: end === undefined ? null : key.map((_, index) => String(end[`k${index}`])) };
  }

  async addPart(jobId: string, sequence: number, bytes: Uint8Array): Promise<void> {
    await this.db.tx.exportPart.create({
      data: { organisationId: this.organisationId, jobId, sequence, bytes: Buffer.from(bytes) },
    });
  }

  /** What a try that died left behind, and what nobody may fetch any more. */
  async removeParts(jobId: string, keptDays: number): Promise<void> {
    await this.db.tx.$executeRaw`
      DELETE FROM export_parts WHERE organisation_id = ${this.organisationId}::uuid
        AND (job_id = ${jobId}::uuid OR created_at < now() - ${keptDays}::int * interval '1 day')`;
  }

  async findJob(jobId: string, keptDays: number): Promise<ExportJob | null> {
    const [row] = await this.db.tx.$queryRaw<ExportJob[]>`
      SELECT j.result, j.kind = 'export' AND j.state = 'finished'
          AND j.finished_at >= now() - ${keptDays}::int * interval '1 day' AS "isFinishedExport"
      FROM jobs j WHERE j.organisation_id = ${this.organisationId}::uuid AND j.id = ${jobId}::uuid`;
    return row ?? null;
  }

  /** The parts one after the other, each read in a transaction of its own: a slow reader holds no connection. */
  readParts(jobId: string, parts: number): Readable {
    const { actor, requestId } = this.db.current;
    const { db } = this;
    async function* read(): AsyncGenerator<Uint8Array> {
      for (let sequence = 0; sequence < parts; sequence += 1) {
        const key = { organisationId: actor.organisationId, jobId, sequence };
        const read = () => db.tx.exportPart.findUniqueOrThrow({ where: { organisationId_jobId_sequence: key } });
        const part = await db.request(actor, requestId, read, { readOnly: true });
        yield part.bytes;
      }
    }
    return Readable.from(read(), { objectMode: false });
  }
}
