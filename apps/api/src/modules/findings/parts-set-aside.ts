import { Injectable } from '@nestjs/common';
import type { SqlTransaction } from '../../platform/sql/sql-transaction.js';
import type { StoredReport } from '../alarm-counts/index.js';

/** The part of a delivery that a finding keeps. */
export interface PartSetAside {
  readonly sourceId: string;
  readonly webhookId: string;
  /** which entry of the delivery it was */
  readonly item: number;
  readonly part: unknown;
}

export interface TakenInAgain {
  /** reports that came to prevail, or no longer do */
  readonly changed: readonly StoredReport[];
  /** what still stands in its way; nothing was written then */
  readonly problems: readonly { readonly kind: string; readonly subject: string }[];
}

/** A whole body that came under the id of another. */
export interface BodySetAside {
  readonly sourceId: string;
  readonly webhookId: string;
  readonly body: string;
}

interface TakeIn {
  part(sql: SqlTransaction, organisationId: string, part: PartSetAside): Promise<TakenInAgain>;
  /** what of it cannot be taken in becomes findings of its own, as of any delivery */
  body(sql: SqlTransaction, organisationId: string, body: BodySetAside): Promise<TakenInAgain>;
}

/** Takes in again what was set aside. Whoever takes deliveries in says how as the application starts: findings know no delivery. */
@Injectable()
export class PartsSetAside {
  private how: TakeIn | null = null;

  takenInBy(how: TakeIn): void {
    this.how = how;
  }

  takeIn(sql: SqlTransaction, organisationId: string, part: PartSetAside | BodySetAside): Promise<TakenInAgain> {
    if (this.how === null) throw new Error('nobody takes deliveries in');
    return 'body' in part ? this.how.body(sql, organisationId, part) : this.how.part(sql, organisationId, part);
  }
}
