import { createHash } from 'node:crypto';
import { Injectable } from '@nestjs/common';
import type { SqlTransaction } from '../../platform/sql/sql-transaction.js';
import {
  PartsSetAside,
  upsertFindings,
  type BodySetAside,
  type PartsOfDelivery,
  type TakenInAgain,
} from '../findings/index.js';
import { isRecord } from './cloud-event.js';
import { readMachines } from './known-machines.js';
import { writeReports } from './lay-in-reports.js';
import { placeDelivery, placeReports } from './place-reports.js';
import { readData, readItem, type Reported, type SetAside } from './read-delivery.js';
import { insertReceipts } from './receipts.repository.js';
import { parseStrictJson } from './strict-json.js';

/** A body of its own under an id that another has: so much of its hash tells it from that one. */
const HASH_SHOWN = 12;

/** Takes a part that was set aside in again, by the rules by which deliveries come in. */
@Injectable()
export class TakeInAgain {
  constructor(parts: PartsSetAside) {
    parts.takenInBy({
      parts: (sql, organisationId, kept) => this.takeParts(sql, organisationId, kept),
      body: (sql, organisationId, body) => this.takeBody(sql, organisationId, body),
    });
  }

  /** A part goes in whole or not at all: what still stands in its way is told, and it is left. */
  private async takeParts(sql: SqlTransaction, organisationId: string, kept: PartsOfDelivery): Promise<TakenInAgain> {
    const read = { reported: [] as Reported[], aside: [] as SetAside[] };
    const now = Date.now();
    // Told apart by their place among the parts: several may come from one entry of the delivery.
    for (const [index, { part }] of kept.parts.entries()) readItem(part, index, now, read);
    const machines = await readMachines(sql, organisationId, [{ sourceId: kept.sourceId, reported: read.reported }]);
    const problems = [...read.aside, ...placeReports(kept, read.reported, machines).aside];
    const bad = new Set(problems.map(({ item }) => item));
    const sound = read.reported.filter(({ item }) => !bad.has(item));
    const { reports } = placeReports(kept, sound, machines);
    const left = kept.parts.filter((_, index) => bad.has(index));
    return { changed: await writeReports(sql, organisationId, reports), problems, left };
  }

  /** As a delivery of its own: with a receipt, under the id that it came with and its hash. */
  private async takeBody(sql: SqlTransaction, organisationId: string, kept: BodySetAside): Promise<TakenInAgain> {
    const body = Buffer.from(kept.body);
    const bodySha256 = createHash('sha256').update(body).digest();
    const now = Date.now();
    const delivery = {
      organisationId,
      sourceId: kept.sourceId,
      webhookId: `${kept.webhookId}#${bodySha256.toString('hex').slice(0, HASH_SHOWN)}`,
      bodySha256,
      body,
      sentAtMs: now,
      clockOffsetS: 0,
      ...readData(dataOf(parseStrictJson(body)), now),
    };
    const { receipt, reports, findings } = placeDelivery(delivery, await readMachines(sql, organisationId, [delivery]));
    await insertReceipts(sql, organisationId, [receipt]);
    await upsertFindings(sql, organisationId, findings);
    return { changed: await writeReports(sql, organisationId, reports), problems: [], left: [] };
  }
}

/** The machines of a body, whichever envelope it came in: attributes that stood in headers are not in it. */
function dataOf(body: unknown): unknown {
  if (!isRecord(body)) return body;
  return isRecord(body.data) && 'data' in body.data ? body.data.data : body.data;
}
