import { randomInt } from 'node:crypto';
import { Injectable } from '@nestjs/common';
import { Secret, TOTP } from 'otpauth';
import { Vault } from '../../platform/auth/vault.js';
import { sha256 } from '../../platform/auth/sessions.js';
import { AppError } from '../../platform/errors/app-error.js';
import { Notices } from './notices.js';
import { SecondFactorsRepository, type AuthenticatorRow } from './second-factors.repository.js';

/** RFC 6238 with what every authenticator app takes: SHA-1, 6 digits, 30 s; a step before and after for clocks that differ. */
const PERIOD_S = 30;
const WINDOW_STEPS = 1;
const PURPOSE = 'secrets of authenticators';
const RECOVERY_CODES = 10;
/** No letter that is taken for another. 16 of them are 78 bits. */
const ALPHABET = '23456789abcdefghjkmnpqrstuvwxyz';
const CODE_LENGTH = 16;

const makeRecoveryCode = (): string =>
  Array.from({ length: CODE_LENGTH }, () => ALPHABET[randomInt(ALPHABET.length)])
    .join('')
    .replace(/(.{4})(?=.)/g, '$1-');

const foldCode = (code: string): string => code.toLowerCase().replace(/[^a-z0-9]/g, '');

/** One-time codes and the recovery codes for the day on which they are lost. */
@Injectable()
export class SecondFactors {
  constructor(
    private readonly repository: SecondFactorsRepository,
    private readonly vault: Vault,
    private readonly notices: Notices,
  ) {}

  async isSet(userId: string): Promise<boolean> {
    const row = await this.repository.find(userId);
    return row !== null && row.confirmed_at !== null;
  }

  /** How many recovery codes are left. */
  countRecoveryCodes(userId: string): Promise<number> {
    return this.repository.countRecoveryCodes(userId);
  }

  /** Whether the code is right. Each is good once: a one-time code for its step, a recovery code for ever. */
  async takes(userId: string, code: string): Promise<boolean> {
    const row = await this.repository.find(userId);
    if (row === null || row.confirmed_at === null) return false;
    const digits = code.replace(/\s/g, '');
    if (/^\d{6}$/.test(digits)) return this.takesStep(userId, row, digits);
    if (!(await this.repository.useRecoveryCode(userId, sha256(foldCode(code))))) return false;
    await this.notices.tell(userId, 'recovery-code-used');
    return true;
  }

  /** A new secret that is not in use before a first code of it was right. */
  async propose(userId: string, label: string): Promise<{ secret: string; uri: string }> {
    if (await this.isSet(userId)) {
      throw new AppError('request.conflict', { detail: 'One-time codes are on already: switch them off first.' });
    }
    const secret = new Secret({ size: 20 });
    await this.repository.propose(userId, this.vault.seal({ purpose: PURPOSE, owner: userId }, secret.bytes));
    return { secret: secret.base32, uri: new TOTP({ issuer: 'Kedge', label, secret }).toString() };
  }

  /** Switches it on when the code is right; the recovery codes are given this once. null when it is wrong. */
  async confirm(userId: string, code: string): Promise<string[] | null> {
    const row = await this.repository.find(userId);
    if (row === null || row.confirmed_at !== null) {
      throw new AppError('request.conflict', { detail: 'There is nothing to confirm.' });
    }
    if (!(await this.takesStep(userId, row, code))) return null;
    await this.repository.confirm(userId);
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
    if (await this.repository.deleteAll(userId)) await this.notices.tell(userId, 'authenticator-removed');
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
    return this.repository.useStep(row.id, Math.floor(now / 1000 / PERIOD_S) + delta);
  }

  private async writeRecoveryCodes(userId: string): Promise<string[]> {
    const codes = Array.from({ length: RECOVERY_CODES }, makeRecoveryCode);
    await this.repository.replaceRecoveryCodes(
      userId,
      codes.map((code) => sha256(foldCode(code))),
    );
    return codes;
  }
}
