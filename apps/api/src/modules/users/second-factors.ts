import { randomInt } from 'node:crypto';
import { Injectable } from '@nestjs/common';
import { Secret, TOTP } from 'otpauth';
import { uuidv7 } from 'uuidv7';
import { Vault } from '../../platform/auth/vault.js';
import { sha256 } from '../../platform/auth/sessions.js';
import { Gate } from '../../platform/db/index.js';
import { AppError } from '../../platform/errors/app-error.js';
import { Notices } from './notices.js';

/** RFC 6238 with what every authenticator app takes: SHA-1, 6 digits, 30 s; a step before and after for clocks that differ. */
const PERIOD_S = 30;
const WINDOW_STEPS = 1;
const PURPOSE = 'secrets of authenticators';
const RECOVERY_CODES = 10;
/** No letter that is taken for another. 16 of them are 78 bits. */
const ALPHABET = '23456789abcdefghjkmnpqrstuvwxyz';
const CODE_LENGTH = 16;

interface AuthenticatorRow {
  id: string;
  secret_sealed: Buffer;
  confirmed_at: Date | null;
}

const makeRecoveryCode = (): string =>
  Array.from({ length: CODE_LENGTH }, () => ALPHABET[randomInt(ALPHABET.length)])
    .join('')
    .replace(/(.{4})(?=.)/g, '$1-');

const foldCode = (code: string): string => code.toLowerCase().replace(/[^a-z0-9]/g, '');

/** One-time codes and the recovery codes for the day on which they are lost. */
@Injectable()
export class SecondFactors {
  constructor(
    private readonly gate: Gate,
    private readonly vault: Vault,
    private readonly notices: Notices,
  ) {}

  async isSet(userId: string): Promise<boolean> {
    return (await this.find(userId))?.confirmed_at instanceof Date;
  }

  /** How many recovery codes are left. */
  async countRecoveryCodes(userId: string): Promise<number> {
    const [row] = await this.gate.query<{ left: number }>(
      'SELECT count(*)::int AS "left" FROM recovery_codes WHERE user_id = $1 AND used_at IS NULL',
      [userId],
    );
    return row?.left ?? 0;
  }

  /** Whether the code is right. Each is good once: a one-time code for its step, a recovery code for ever. */
  async takes(userId: string, code: string): Promise<boolean> {
    const row = await this.find(userId);
    if (row === null || row.confirmed_at === null) return false;
    if (/^\d{6}$/.test(code)) return this.takesStep(userId, row, code);
    const used = await this.gate.query(
      'UPDATE recovery_codes SET used_at = now() WHERE user_id = $1 AND code_hash = $2 AND used_at IS NULL RETURNING user_id',
      [userId, sha256(foldCode(code))],
    );
    if (used.length === 0) return false;
    await this.notices.tell(userId, 'recovery-code-used');
    return true;
  }

  /** A new secret that is not in use before a first code of it was right. */
  async propose(userId: string, label: string): Promise<{ secret: string; uri: string }> {
    if (await this.isSet(userId)) {
      throw new AppError('request.conflict', { detail: 'One-time codes are on already: switch them off first.' });
    }
    const secret = new Secret({ size: 20 });
    const sealed = this.vault.seal({ purpose: PURPOSE, owner: userId }, secret.bytes);
    await this.gate.query(
      `INSERT INTO authenticators (id, user_id, secret_sealed) VALUES ($1, $2, $3)
       ON CONFLICT (user_id) DO UPDATE SET secret_sealed = $3, created_at = now(), last_step = 0
       WHERE authenticators.confirmed_at IS NULL`,
      [uuidv7(), userId, sealed],
    );
    return { secret: secret.base32, uri: new TOTP({ issuer: 'Kedge', label, secret }).toString() };
  }

  /** Switches it on when the code is right; the recovery codes are given this once. null when it is wrong. */
  async confirm(userId: string, code: string): Promise<string[] | null> {
    const row = await this.find(userId);
    if (row === null || row.confirmed_at !== null) {
      throw new AppError('request.conflict', { detail: 'There is nothing to confirm.' });
    }
    if (!(await this.takesStep(userId, row, code))) return null;
    await this.gate.query(
      'UPDATE authenticators SET confirmed_at = now() WHERE user_id = $1 AND confirmed_at IS NULL',
      [userId],
    );
    await this.notices.tell(userId, 'authenticator-added');
    return this.writeRecoveryCodes(userId);
  }

  /** New recovery codes; those before are no longer good. */
  async renewRecoveryCodes(userId: string): Promise<string[]> {
    if (!(await this.isSet(userId))) throw new AppError('request.conflict', { detail: 'One-time codes are off.' });
    await this.notices.tell(userId, 'recovery-codes-renewed');
    return this.writeRecoveryCodes(userId);
  }

  async remove(userId: string): Promise<void> {
    const gone = await this.gate.query('DELETE FROM authenticators WHERE user_id = $1 RETURNING id', [userId]);
    await this.gate.query('DELETE FROM recovery_codes WHERE user_id = $1', [userId]);
    if (gone.length > 0) await this.notices.tell(userId, 'authenticator-removed');
  }

  private async find(userId: string): Promise<AuthenticatorRow | null> {
    const [row] = await this.gate.query<AuthenticatorRow>(
      'SELECT id, secret_sealed, confirmed_at FROM authenticators WHERE user_id = $1',
      [userId],
    );
    return row ?? null;
  }

  private async takesStep(userId: string, row: AuthenticatorRow, code: string): Promise<boolean> {
    const bytes = this.vault.open({ purpose: PURPOSE, owner: userId }, row.secret_sealed);
    const secret = new Secret({ buffer: new Uint8Array(bytes).buffer });
    const now = Date.now();
    const delta = new TOTP({ secret, period: PERIOD_S }).validate({
      token: code,
      window: WINDOW_STEPS,
      timestamp: now,
    });
    if (delta === null) return false;
    const step = Math.floor(now / 1000 / PERIOD_S) + delta;
    // In one statement: of two that use one code at once, one is refused.
    const used = await this.gate.query(
      'UPDATE authenticators SET last_step = $2 WHERE id = $1 AND last_step < $2 RETURNING id',
      [row.id, step],
    );
    return used.length > 0;
  }

  private async writeRecoveryCodes(userId: string): Promise<string[]> {
    const codes = Array.from({ length: RECOVERY_CODES }, makeRecoveryCode);
    await this.gate.query(
      `WITH gone AS (DELETE FROM recovery_codes WHERE user_id = $1)
       INSERT INTO recovery_codes (user_id, code_hash) SELECT $1, unnest($2::bytea[])`,
      [userId, codes.map((code) => sha256(foldCode(code)))],
    );
    return codes;
  }
}
