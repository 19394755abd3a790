import { Injectable } from '@nestjs/common';
import type { Origin } from '../../platform/auth/by.decorators.js';
import { makeToken, sha256 } from '../../platform/auth/sessions.js';
import { Gate } from '../../platform/db/index.js';
import { Notices } from './notices.js';

/** Browsers that signed in to an account. They are told of when new; guesses made elsewhere do not slow them. */
@Injectable()
export class KnownDevices {
  constructor(
    private readonly gate: Gate,
    private readonly notices: Notices,
  ) {}

  /** The token that the browser is to keep. Only one that was given out here is kept on. */
  async remember(userId: string, { deviceToken, userAgent }: Origin): Promise<string> {
    const agent = userAgent.slice(0, 300);
    const given = deviceToken === null ? null : sha256(deviceToken);
    const [state] = await this.gate.query<{ is_given: boolean; is_known: boolean; has_others: boolean }>(
      `SELECT EXISTS (SELECT 1 FROM known_devices WHERE token_hash = $2) AS is_given,
              EXISTS (SELECT 1 FROM known_devices WHERE token_hash = $2 AND user_id = $1) AS is_known,
              EXISTS (SELECT 1 FROM known_devices WHERE user_id = $1) AS has_others`,
      [userId, given],
    );
    const token = deviceToken !== null && state?.is_given === true ? deviceToken : makeToken();
    await this.gate.query(
      `INSERT INTO known_devices (user_id, token_hash, user_agent) VALUES ($1, $2, $3)
       ON CONFLICT (user_id, token_hash) DO UPDATE SET last_seen_at = now(), user_agent = $3`,
      [userId, sha256(token), agent],
    );
    if (state?.is_known !== true && state?.has_others === true) {
      await this.notices.tell(userId, 'signed-in-on-new-device', { userAgent: agent });
    }
    return token;
  }

  async forgetAll(userId: string): Promise<void> {
    await this.gate.query('DELETE FROM known_devices WHERE user_id = $1', [userId]);
  }
}
