import { Injectable } from '@nestjs/common';
import { Gate } from '../../platform/db/index.js';

/** What guesses are counted by. */
export interface GuessKeys {
  subjectHash: Buffer;
  addressHash: Buffer;
  /** of a device that the account knows */
  deviceHash: Buffer | null;
}

/** Guesses of the last quarter of an hour that were not right. All but the first are those of strangers. */
export interface GuessCounts {
  device: number;
  pair: number;
  account: number;
  address: number;
}

@Injectable()
export class GuessesRepository {
  constructor(private readonly gate: Gate) {}

  async insert(id: string, { subjectHash, addressHash, deviceHash }: GuessKeys): Promise<void> {
    await this.gate.query(
      'INSERT INTO sign_in_attempts (id, email_hash, address_hash, device_hash, succeeded) VALUES ($1, $2, $3, $4, false)',
      [id, subjectHash, addressHash, deviceHash],
    );
  }

  async count({ subjectHash, addressHash, deviceHash }: GuessKeys): Promise<GuessCounts> {
    const [counts] = await this.gate.query<GuessCounts>(
      `SELECT count(*) FILTER (WHERE email_hash = $1 AND device_hash = $3)::int AS device,
              count(*) FILTER (WHERE email_hash = $1 AND address_hash = $2 AND device_hash IS NULL)::int AS pair,
              count(*) FILTER (WHERE email_hash = $1 AND device_hash IS NULL)::int AS account,
              count(*) FILTER (WHERE address_hash = $2 AND device_hash IS NULL)::int AS address
       FROM sign_in_attempts
       WHERE (email_hash = $1 OR address_hash = $2) AND attempted_at > now() - interval '15 minutes' AND NOT succeeded`,
      [subjectHash, addressHash, deviceHash],
    );
    return counts ?? { device: 0, pair: 0, account: 0, address: 0 };
  }

  /** It was right: what was guessed before from there is forgotten, and what is older than a day. */
  async succeed(id: string, subjectHash: Buffer, addressHash: Buffer): Promise<void> {
    await this.gate.query('UPDATE sign_in_attempts SET succeeded = true WHERE id = $1', [id]);
    await this.gate.query(
      `DELETE FROM sign_in_attempts
       WHERE (email_hash = $1 AND address_hash = $2) OR attempted_at < now() - interval '1 day'`,
      [subjectHash, addressHash],
    );
  }

  async delete(id: string): Promise<void> {
    await this.gate.query('DELETE FROM sign_in_attempts WHERE id = $1', [id]);
  }

  /** Whether a device signed in before to the account of this e-mail, or of this id. */
  async isKnownDevice(deviceHash: Buffer, account: string): Promise<boolean> {
    const rows = await this.gate.query(
      `SELECT 1 FROM known_devices d JOIN users u ON u.id = d.user_id
       WHERE d.token_hash = $1 AND (lower(u.email) = lower($2) OR u.id::text = $2) LIMIT 1`,
      [deviceHash, account],
    );
    return rows.length > 0;
  }
}
