import { Injectable } from '@nestjs/common';
import { uuidv7 } from 'uuidv7';
import { Gate } from '../../platform/db/index.js';

export interface AuthenticatorRow {
  id: string;
  secret_sealed: Buffer;
  confirmed_at: Date | null;
}

@Injectable()
export class SecondFactorsRepository {
  constructor(private readonly gate: Gate) {}

  async find(userId: string): Promise<AuthenticatorRow | null> {
    const [row] = await this.gate.query<AuthenticatorRow>(
      'SELECT id, secret_sealed, confirmed_at FROM authenticators WHERE user_id = $1',
      [userId],
    );
    return row ?? null;
  }

  /** Takes the place of one that was never confirmed. */
  async propose(userId: string, secretSealed: Buffer): Promise<void> {
    await this.gate.query(
      `INSERT INTO authenticators (id, user_id, secret_sealed) VALUES ($1, $2, $3)
       ON CONFLICT (user_id) DO UPDATE SET secret_sealed = $3, created_at = now(), last_step = 0
       WHERE authenticators.confirmed_at IS NULL`,
      [uuidv7(), userId, secretSealed],
    );
  }

  async confirm(userId: string): Promise<void> {
    await this.gate.query(
      'UPDATE authenticators SET confirmed_at = now() WHERE user_id = $1 AND confirmed_at IS NULL',
      [userId],
    );
  }

  /** false when this step, or a later one, was used before. One statement: of two that use one code at once, one is refused. */
  async useStep(id: string, step: number): Promise<boolean> {
    const used = await this.gate.query(
      'UPDATE authenticators SET last_step = $2 WHERE id = $1 AND last_step < $2 RETURNING id',
      [id, step],
    );
    return used.length > 0;
  }

  /** Codes and recovery codes; false when there were none. */
  async deleteAll(userId: string): Promise<boolean> {
    await this.gate.query('DELETE FROM recovery_codes WHERE user_id = $1', [userId]);
    const gone = await this.gate.query('DELETE FROM authenticators WHERE user_id = $1 RETURNING id', [userId]);
    return gone.length > 0;
  }

  async countRecoveryCodes(userId: string): Promise<number> {
    const [row] = await this.gate.query<{ left: number }>(
      'SELECT count(*)::int AS "left" FROM recovery_codes WHERE user_id = $1 AND used_at IS NULL',
      [userId],
    );
    return row?.left ?? 0;
  }

  async useRecoveryCode(userId: string, codeHash: Buffer): Promise<boolean> {
    const used = await this.gate.query(
      'UPDATE recovery_codes SET used_at = now() WHERE user_id = $1 AND code_hash = $2 AND used_at IS NULL RETURNING user_id',
      [userId, codeHash],
    );
    return used.length > 0;
  }

  async replaceRecoveryCodes(userId: string, codeHashes: readonly Buffer[]): Promise<void> {
    await this.gate.query(
      `WITH gone AS (DELETE FROM recovery_codes WHERE user_id = $1)
       INSERT INTO recovery_codes (user_id, code_hash) SELECT $1, unnest($2::bytea[])`,
      [userId, codeHashes],
    );
  }
}
