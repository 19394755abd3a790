import { Injectable } from '@nestjs/common';
import type { SqlTransaction } from '../../platform/sql/sql-transaction.js';
import { PartsSetAside, type PartSetAside, type TakenInAgain } from '../findings/index.js';
import { readMachines } from './known-machines.js';
import { writeReports } from './lay-in-reports.js';
import { placeReports } from './place-reports.js';
import { readItem, type Reported, type SetAside } from './read-delivery.js';

/** Takes a part that was set aside in again, by the rules by which deliveries come in. */
@Injectable()
export class TakeInAgain {
  constructor(parts: PartsSetAside) {
    parts.takenInBy((sql, organisationId, part) => this.takeIn(sql, organisationId, part));
  }

  /** What still cannot be taken is told, and nothing of the part written. */
  private async takeIn(sql: SqlTransaction, organisationId: string, of: PartSetAside): Promise<TakenInAgain> {
    const read = { reported: [] as Reported[], aside: [] as SetAside[] };
    readItem(of.part, of.item, Date.now(), read);
    const machines = await readMachines(sql, organisationId, [{ sourceId: of.sourceId, reported: read.reported }]);
    const { reports, aside } = placeReports(of, read.reported, machines);
    const problems = [...read.aside, ...aside];
    if (problems.length > 0) return { changed: [], problems };
    return { changed: await writeReports(sql, organisationId, reports), problems };
  }
}
