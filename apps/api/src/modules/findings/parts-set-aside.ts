import { Injectable } from '@nestjs/common';
import type { SqlTransaction } from '../../platform/sql/sql-transaction.js';
import type { StoredReport } from '../alarm-counts/index.js';

/** One part of a delivery, with the entry of the delivery that it was. */
export interface KeptPart {
  readonly item: number;
  readonly part?: unknown;
}

/** The parts of a delivery that a finding keeps. */
export interface PartsOfDelivery {
  readonly sourceId: string;
  readonly webhookId: string;
  readonly parts: readonly KeptPart[];
}

export interface TakenInAgain {
  /** reports that came to prevail, or no longer do */
  readonly changed: readonly StoredReport[];
  /** what still stands in the way of those that are left */
  readonly problems: readonly { readonly kind: string; readonly subject: string }[];
  /** parts of which nothing was written */
  readonly left: readonly KeptPart[];
}

/** A whole body that came under the id of another. */
export interface BodySetAside {
  readonly sourceId: string;
  readonly webhookId: string;
  readonly body: string;
}

interface TakeIn {
  parts(sql: SqlTransaction, organisationId: string, kept: PartsOfDelivery): Promise<TakenInAgain>;
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

  takeIn(sql: SqlTransaction, organisationId: string, kept: PartsOfDelivery | BodySetAside): Promise<TakenInAgain> {
    if (this.how === null) throw new Error('nobody takes deliveries in');
    return 'body' in kept ? this.how.body(sql, organisationId, kept) : this.how.parts(sql, organisationId, kept);
  }
}
