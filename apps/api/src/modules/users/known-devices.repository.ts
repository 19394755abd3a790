import { Injectable } from '@nestjs/common';
import { Gate } from '../../platform/db/index.js';

export interface DeviceState {
  /** the token was given out here, to whomever */
  is_given: boolean;
  /** this account signed in with it before */
  is_known: boolean;
  has_others: boolean;
}

@Injectable()
export class KnownDevicesRepository {
  constructor(private readonly gate: Gate) {}

  async findState(userId: string, tokenHash: Buffer | null): Promise<DeviceState> {
    const [state] = await this.gate.query<DeviceState>(
      `SELECT EXISTS (SELECT 1 FROM known_devices WHERE token_hash = $2) AS is_given,
              EXISTS (SELECT 1 FROM known_devices WHERE token_hash = $2 AND user_id = $1) AS is_known,
              EXISTS (SELECT 1 FROM known_devices WHERE user_id = $1) AS has_others`,
      [userId, tokenHash],
    );
    return state ?? { is_given: false, is_known: false, has_others: false };
  }

  async upsert(userId: string, tokenHash: Buffer, userAgent: string): Promise<void> {
    await this.gate.query(
      `INSERT INTO known_devices (user_id, token_hash, user_agent) VALUES ($1, $2, $3)
       ON CONFLICT (user_id, token_hash) DO UPDATE SET last_seen_at = now(), user_agent = $3`,
      [userId, tokenHash, userAgent],
    );
  }

  async deleteAll(userId: string): Promise<void> {
    await this.gate.query('DELETE FROM known_devices WHERE user_id = $1', [userId]);
  }
}
