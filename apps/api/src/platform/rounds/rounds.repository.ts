import { Injectable } from '@nestjs/common';
import type { Actor } from '../auth/actor.js';
import { Db, Gate } from '../db/index.js';

const NOBODY = '00000000-0000-0000-0000-000000000000';

/** Nobody's own change: it is made in the product's name. */
const inTheNameOf = (organisationId: string): Actor => ({
  sessionId: 'rounds',
  userId: NOBODY,
  membershipId: NOBODY,
  organisationId,
  customerId: null,
  role: 'administrator',
  displayName: 'Kedge',
});

/** Every organisation, one after the other. */
@Injectable()
export class RoundsRepository {
  constructor(
    private readonly db: Db,
    private readonly gate: Gate,
  ) {}

  async listOrganisations(): Promise<string[]> {
    const rows = await this.gate.query<{ id: string }>('SELECT id FROM organisations ORDER BY id', []);
    return rows.map(({ id }) => id);
  }

  /** Runs `work` in a transaction of this organisation. */
  within<T>(organisationId: string, work: () => Promise<T>): Promise<T> {
    return this.db.request(inTheNameOf(organisationId), 'rounds', work);
  }

  /** Something that must come to rest before the connections are closed. */
  closeAfter(rest: () => Promise<void>): void {
    this.db.closeAfter(rest);
  }
}
