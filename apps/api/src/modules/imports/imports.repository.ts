import { Injectable } from '@nestjs/common';
import type { ImportCounts, ImportMapping, ImportReading, ImportRow } from '@repo/contracts';
import { Db, json, Prisma } from '../../platform/db/index.js';
import { importCounts, importMapping, importReading } from './import-documents.js';
import type { WrittenChange } from './import-writer.repository.js';

const CHUNK = 2_000;

type Unread = Omit<ImportRecord, 'reading' | 'mapping' | 'counts'> & Record<'reading' | 'mapping' | 'counts', unknown>;
const toRecord = (row: Unread): ImportRecord => ({
  ...row,
  reading: importReading.read(row.reading, row.fileName),
  mapping: importMapping.read(row.mapping, row.fileName),
  counts: importCounts.read(row.counts, row.fileName),
});

export interface ImportRecord {
  id: string;
  fileName: string;
  fileId: string | null;
  rowsFileId: string | null;
  state: string;
  reading: ImportReading | null;
  fingerprint: string;
  mapping: ImportMapping | null;
  counts: ImportCounts | null;
  planDigest: string;
  jobId: string | null;
  jobState: string | null;
  createdByName: string;
  createdAt: Date;
  committedAt: Date | null;
  undoneAt: Date | null;
  version: number;
}
export type ImportChangeRow = Omit<WrittenChange, 'before'> & { sequence: number; before: unknown };

const COLUMNS = Prisma.raw(`
  i.id, i.file_name AS "fileName", i.file_id AS "fileId", i.rows_file_id AS "rowsFileId", i.state, i.fingerprint,
  i.counts, i.plan_digest AS "planDigest", i.job_id AS "jobId", j.state AS "jobState",
  i.created_by_name AS "createdByName", i.created_at AS "createdAt", i.committed_at AS "committedAt",
  i.undone_at AS "undoneAt", i.version`);
const WHOLE = Prisma.raw('i.reading, i.mapping');
const SHORT = Prisma.raw('NULL::jsonb AS reading, NULL::jsonb AS mapping');
const FROM = Prisma.raw('FROM imports i LEFT JOIN jobs j ON j.organisation_id = i.organisation_id AND j.id = i.job_id');

export interface ImportPatch {
  state?: string;
  fileId?: string;
  rowsFileId?: string;
  reading?: ImportReading;
  fingerprint?: string;
  mapping?: ImportMapping;
  counts?: ImportCounts | null;
  planDigest?: string;
  jobId?: string;
  committedAt?: Date;
  undoneAt?: Date;
}

@Injectable()
export class ImportsRepository {
  constructor(private readonly db: Db) {}

  private get organisationId(): string {
    return this.db.actor.organisationId;
  }

  /** @param lock keeps others from taking the next step at the same time */
  async find(id: string, lock = false): Promise<ImportRecord | null> {
    const [row] = await this.db.tx.$queryRaw<Unread[]>`
      SELECT ${COLUMNS}, ${WHOLE} ${FROM}
      WHERE i.organisation_id = ${this.organisationId}::uuid AND i.id = ${id}::uuid
      ${lock ? Prisma.sql`FOR UPDATE OF i` : Prisma.empty}`;
    return row === undefined ? null : toRecord(row);
  }

  /** Without what was found in each file, and how it is read. */
  async list(after: readonly (string | number)[] | null, limit: number): Promise<ImportRecord[]> {
    const beyond =
      after === null
        ? Prisma.empty
        : Prisma.sql`AND (i.created_at, i.id) < (${String(after[0])}::timestamptz, ${String(after[1])}::uuid)`;
    const rows = await this.db.tx.$queryRaw<Unread[]>`
      SELECT ${COLUMNS}, ${SHORT} ${FROM} WHERE i.organisation_id = ${this.organisationId}::uuid ${beyond}
      ORDER BY i.created_at DESC, i.id DESC LIMIT ${limit + 1}`;
    // A list goes on without counts that cannot be read; the page of that import says so.
    return rows.map((row) => ({ ...row, reading: null, mapping: null, counts: importCounts.readOrNull(row.counts) }));
  }

  async insert(id: string, fileName: string): Promise<void> {
    const { organisationId, membershipId, displayName } = this.db.actor;
    await this.db.tx.import.create({
      data: { organisationId, id, fileName, createdBy: membershipId, createdByName: displayName },
    });
  }

  async update(id: string, patch: ImportPatch): Promise<void> {
    const { reading, mapping, counts, ...plain } = patch;
    await this.db.tx.import.updateMany({
      where: { organisationId: this.organisationId, id },
      data: {
        ...plain,
        ...(reading === undefined ? {} : { reading: json(importReading.write(reading)) }),
        ...(mapping === undefined ? {} : { mapping: json(importMapping.write(mapping)) }),
        ...(counts === undefined ? {} : { counts: counts === null ? Prisma.DbNull : json(importCounts.write(counts)) }),
        version: { increment: 1 },
      },
    });
  }

  async findMapping(fingerprint: string): Promise<ImportMapping | null> {
    const key = { organisationId_fingerprint: { organisationId: this.organisationId, fingerprint } };
    const found = await this.db.tx.importMapping.findUnique({ where: key });
    return found === null ? null : importMapping.read(found.mapping);
  }

  async rememberMapping(fingerprint: string, mapping: ImportMapping): Promise<void> {
    const key = { organisationId: this.organisationId, fingerprint };
    const written = json(importMapping.write(mapping));
    await this.db.tx.importMapping.upsert({
      where: { organisationId_fingerprint: key },
      create: { ...key, mapping: written },
      update: { mapping: written, savedAt: new Date() },
    });
  }

  async replaceRows(importId: string, rows: readonly ImportRow[], sheets: ReadonlyMap<string, number>): Promise<void> {
    await this.db.tx.$executeRaw`
      DELETE FROM import_rows WHERE organisation_id = ${this.organisationId}::uuid AND import_id = ${importId}::uuid`;
    for (let start = 0; start < rows.length; start += CHUNK) {
      const chunk = rows
        .slice(start, start + CHUNK)
        .map(({ sheet, ...row }) => ({ ...row, sheet: sheets.get(sheet) ?? 0 }));
      await this.db.tx.$executeRaw`
        INSERT INTO import_rows (organisation_id, import_id, sequence, sheet, "row", outcome, records, filled, findings)
        SELECT ${this.organisationId}::uuid, ${importId}::uuid, r.sequence, r.sheet, r."row", r.outcome, r.records, r.filled, r.findings
        FROM jsonb_to_recordset(${JSON.stringify(chunk)}::jsonb)
          AS r (sequence int, sheet int, "row" int, outcome text, records jsonb, filled text[], findings jsonb)`;
    }
  }

  listRows(importId: string, outcome: string | undefined, after: number | null, limit: number) {
    return this.db.tx.importRow.findMany({
      where: {
        organisationId: this.organisationId,
        importId,
        ...(outcome === undefined ? {} : { outcome }),
        ...(after === null ? {} : { sequence: { gt: after } }),
      },
      orderBy: { sequence: 'asc' },
      take: limit,
    });
  }

  listChanges(importId: string): Promise<ImportChangeRow[]> {
    return this.db.tx.$queryRaw<ImportChangeRow[]>`
      SELECT c.sequence, c.entity, c.entity_id AS "entityId", c.name, c.operation, c.before,
             c.version_after + 2 * (SELECT count(*)::int FROM import_changes later
               JOIN imports i ON i.organisation_id = later.organisation_id AND i.id = later.import_id AND i.state = 'undone'
               WHERE later.organisation_id = c.organisation_id AND later.entity_id = c.entity_id
                 AND later.operation IN ('changed', 'ended') AND later.version_after > c.version_after) AS "versionAfter"
      FROM import_changes c WHERE c.organisation_id = ${this.organisationId}::uuid AND c.import_id = ${importId}::uuid
      ORDER BY c.sequence`;
  }
}
