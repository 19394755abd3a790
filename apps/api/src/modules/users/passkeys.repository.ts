import { Injectable } from '@nestjs/common';
import { Gate } from '../../platform/db/index.js';

export interface PasskeyRow {
  id: string;
  user_id: string;
  credential_id: Buffer;
  public_key: Buffer;
  sign_count: string;
  transports: string[];
  name: string;
  created_at: Date;
  last_used_at: Date | null;
}

const PASSKEY = 'id, user_id, credential_id, public_key, sign_count, transports, name, created_at, last_used_at';
const CHALLENGE_MINUTES = 5;

@Injectable()
export class PasskeysRepository {
  constructor(private readonly gate: Gate) {}

  list(userId: string): Promise<PasskeyRow[]> {
    return this.gate.query<PasskeyRow>(
      `SELECT ${PASSKEY} FROM passkeys WHERE user_id = $1 ORDER BY created_at, id LIMIT 100`,
      [userId],
    );
  }

  async findByCredential(credentialId: Buffer): Promise<PasskeyRow | null> {
    const [row] = await this.gate.query<PasskeyRow>(`SELECT ${PASSKEY} FROM passkeys WHERE credential_id = $1`, [
      credentialId,
    ]);
    return row ?? null;
  }

  async insert(passkey: {
    id: string;
    userId: string;
    credentialId: Buffer;
    publicKey: Buffer;
    signCount: number;
    transports: readonly string[];
    name: string;
  }): Promise<PasskeyRow | null> {
    const [row] = await this.gate.query<PasskeyRow>(
      `INSERT INTO passkeys (id, user_id, credential_id, public_key, sign_count, transports, name)
       VALUES ($1, $2, $3, $4, $5, $6, $7) ON CONFLICT (credential_id) DO NOTHING RETURNING ${PASSKEY}`,
      [
        passkey.id,
        passkey.userId,
        passkey.credentialId,
        passkey.publicKey,
        passkey.signCount,
        passkey.transports,
        passkey.name,
      ],
    );
    return row ?? null;
  }

  /** false when its count went back meanwhile: of two copies of one key, one is told. */
  async use(id: string, signCount: number): Promise<boolean> {
    const rows = await this.gate.query(
      `UPDATE passkeys SET sign_count = $2, last_used_at = now()
       WHERE id = $1 AND (sign_count < $2 OR (sign_count = 0 AND $2 = 0)) RETURNING id`,
      [id, signCount],
    );
    return rows.length > 0;
  }

  async delete(userId: string, id: string): Promise<{ name: string } | null> {
    const [row] = await this.gate.query<{ name: string }>(
      'DELETE FROM passkeys WHERE user_id = $1 AND id = $2 RETURNING name',
      [userId, id],
    );
    return row ?? null;
  }

  async insertChallenge(id: string, userId: string | null, challenge: string): Promise<void> {
    await this.gate.query(
      `WITH old AS (DELETE FROM passkey_challenges WHERE expires_at < now())
       INSERT INTO passkey_challenges (id, user_id, challenge, expires_at) VALUES ($1, $2, $3, now() + make_interval(mins => $4))`,
      [id, userId, challenge, CHALLENGE_MINUTES],
    );
  }

  /** The challenge, used up by this call; null when it was used, is too old, or somebody else's. */
  async takeChallenge(id: string, userId: string | null): Promise<string | null> {
    const [row] = await this.gate.query<{ challenge: string }>(
      `DELETE FROM passkey_challenges WHERE id = $1 AND user_id IS NOT DISTINCT FROM $2 AND expires_at > now() RETURNING challenge`,
      [id, userId],
    );
    return row?.challenge ?? null;
  }
}
