import { Injectable } from '@nestjs/common';
import { uuidv7 } from 'uuidv7';
import { makeToken, sha256 } from '../../platform/auth/sessions.js';
import { Gate } from '../../platform/db/index.js';

type Purpose = 'forgotten-password' | 'address-proof';
const GOOD_FOR_HOURS: Record<Purpose, number> = { 'forgotten-password': 1, 'address-proof': 24 };
/** Links of one kind to one account in an hour: a mailbox is not to be flooded. */
const AN_HOUR = 3;

/** Links that are sent to an address. Whoever opens one reads that mailbox; each is good once. */
@Injectable()
export class OneTimeLinksRepository {
  constructor(private readonly gate: Gate) {}

  /** The token of a new link; null when enough were made within the hour. */
  async make(userId: string, purpose: Purpose, email: string): Promise<string | null> {
    const token = makeToken();
    const made = await this.gate.query(
      `INSERT INTO one_time_links (id, user_id, purpose, email, token_hash, expires_at)
       SELECT $1, $2, $3, $4, $5, now() + make_interval(hours => $6)
       WHERE (SELECT count(*) FROM one_time_links
              WHERE user_id = $2 AND purpose = $3 AND created_at > now() - interval '1 hour') < $7 RETURNING id`,
      [uuidv7(), userId, purpose, email, sha256(token), GOOD_FOR_HOURS[purpose], AN_HOUR],
    );
    return made.length === 0 ? null : token;
  }

  /** The address that a good link was sent to; it stays good. */
  async findAddress(token: string, purpose: Purpose): Promise<string | null> {
    const [row] = await this.gate.query<{ email: string }>(
      'SELECT email FROM one_time_links WHERE token_hash = $1 AND purpose = $2 AND used_at IS NULL AND expires_at > now()',
      [sha256(token), purpose],
    );
    return row?.email ?? null;
  }

  /** Whose good link it is; it stays good. */
  async findUser(token: string, purpose: Purpose): Promise<string | null> {
    const [row] = await this.gate.query<{ user_id: string }>(
      'SELECT user_id FROM one_time_links WHERE token_hash = $1 AND purpose = $2 AND used_at IS NULL AND expires_at > now()',
      [sha256(token), purpose],
    );
    return row?.user_id ?? null;
  }

  /** The address that a link of this account was sent to, used up by this call; null when it is no longer good, or another's. */
  async use(token: string, purpose: Purpose, userId: string): Promise<string | null> {
    const [row] = await this.gate.query<{ email: string }>(
      `UPDATE one_time_links SET used_at = now()
       WHERE token_hash = $1 AND purpose = $2 AND user_id = $3 AND used_at IS NULL AND expires_at > now() RETURNING email`,
      [sha256(token), purpose, userId],
    );
    return row?.email ?? null;
  }

  /** What was sent before is no longer good. */
  async endAll(userId: string, purpose: Purpose): Promise<void> {
    await this.gate.query(
      'UPDATE one_time_links SET used_at = now() WHERE user_id = $1 AND purpose = $2 AND used_at IS NULL',
      [userId, purpose],
    );
  }
}
