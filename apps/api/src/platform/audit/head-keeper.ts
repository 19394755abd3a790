import { closeSync, existsSync, fsyncSync, mkdirSync, openSync, readFileSync, truncateSync, writeSync } from 'node:fs';
import path from 'node:path';
import { Inject, Injectable, Logger, type OnApplicationBootstrap, type OnModuleDestroy } from '@nestjs/common';
import { ENV, type Env } from '../../config/env.js';
import { Db } from '../db/db.js';
import { Gate } from '../db/gate.js';
import { HEADS_FILE, readHeads, writeHeads, type AuditHead } from './heads.js';

/** An organisation's first entries wait no longer than this for their first head. */
const LOOK_EVERY_MS = 60_000;

/**
 * Writes the head of every organisation's audit chain into a file, once a day, by adding lines. The file is to be copied to where
 * those who can write to the database cannot: then a chain that was computed anew shows.
 */
@Injectable()
export class AuditHeadKeeper implements OnApplicationBootstrap, OnModuleDestroy {
  private readonly log = new Logger(AuditHeadKeeper.name);
  private readonly folder: string | undefined;
  private timer: NodeJS.Timeout | null = null;
  private running: Promise<void> = Promise.resolve();
  /** organisations whose head of this day is in the file */
  private kept: { date: string; ids: Set<string> } = { date: '', ids: new Set() };

  constructor(
    @Inject(ENV) env: Env,
    private readonly db: Db,
    private readonly gate: Gate,
  ) {
    this.folder = env.AUDIT_HEADS_DIR;
  }

  onApplicationBootstrap(): void {
    const { folder } = this;
    if (folder === undefined) return;
    const look = (): void => {
      this.running = this.running.then(() => this.keepOnce(folder));
    };
    look();
    this.timer = setInterval(look, LOOK_EVERY_MS);
    this.timer.unref();
  }

  async onModuleDestroy(): Promise<void> {
    if (this.timer !== null) clearInterval(this.timer);
    await this.running;
  }

  private async keepOnce(folder: string): Promise<void> {
    try {
      await this.keep(folder);
    } catch (error) {
      this.log.warn(
        `the heads of the audit chains are not written: ${error instanceof Error ? error.message : String(error)}`,
      );
    }
  }

  /** Adds the heads of today that are not there yet. */
  private async keep(folder: string): Promise<void> {
    const date = new Date().toISOString().slice(0, 10);
    const file = path.join(folder, HEADS_FILE);
    if (this.kept.date !== date) this.kept = { date, ids: readKept(file, date) };
    const { ids } = this.kept;
    const organisations = await this.gate.query<{ id: string }>('SELECT id FROM organisations ORDER BY id', []);
    const heads: AuditHead[] = [];
    for (const { id } of organisations) {
      const head = ids.has(id) ? null : await this.readHead(id);
      if (head !== null) heads.push({ date, organisationId: id, ...head });
    }
    if (heads.length === 0) return;
    append(file, writeHeads(heads));
    for (const { organisationId } of heads) ids.add(organisationId);
  }

  private readHead(organisationId: string): Promise<{ sequence: number; hash: string } | null> {
    return this.db.transaction({ organisationId, customerId: null, role: 'sealer' }, async (tx) => {
      const last = await tx.auditSeal.findFirst({ where: { organisationId }, orderBy: { sequence: 'desc' } });
      return last === null ? null : { sequence: last.sequence, hash: Buffer.from(last.hash).toString('hex') };
    });
  }
}

function readKept(file: string, date: string): Set<string> {
  mkdirSync(path.dirname(file), { recursive: true, mode: 0o700 });
  dropTornLine(file);
  const heads = existsSync(file) ? readHeads(readFileSync(file, 'utf8')) : [];
  return new Set(heads.filter((head) => head.date === date).map(({ organisationId }) => organisationId));
}

/** A line that a crash cut off says nothing, and would spoil the one written behind it. All of it is ASCII. */
function dropTornLine(file: string): void {
  if (!existsSync(file)) return;
  const text = readFileSync(file, 'latin1');
  const whole = text.lastIndexOf('\n') + 1;
  if (whole < text.length) truncateSync(file, whole);
}

/** On the disk before anything else is believed of it. */
function append(file: string, text: string): void {
  const handle = openSync(file, 'a', 0o600);
  try {
    writeSync(handle, text);
    fsyncSync(handle);
  } finally {
    closeSync(handle);
  }
}
