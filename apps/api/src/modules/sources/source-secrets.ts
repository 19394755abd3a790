import { randomBytes } from 'node:crypto';
import { Injectable } from '@nestjs/common';
import { Vault } from '../../platform/auth/vault.js';

const PREFIX = 'whsec_';
const SECRET_BYTES = 32;
const PURPOSE = 'secrets of sources';

/** Makes secrets of sources, and seals them for the database. */
@Injectable()
export class SourceSecrets {
  constructor(private readonly vault: Vault) {}

  /** A new secret as its gateway gets it. */
  make(): string {
    return PREFIX + randomBytes(SECRET_BYTES).toString('base64');
  }

  seal(sourceId: string, secret: string): Buffer {
    return this.vault.seal({ purpose: PURPOSE, owner: sourceId }, Buffer.from(secret.slice(PREFIX.length), 'base64'));
  }

  /** The bytes that sign; throws when it was sealed for another source or under another APP_SECRET. */
  open(sourceId: string, sealed: Buffer): Buffer {
    return this.vault.open({ purpose: PURPOSE, owner: sourceId }, sealed);
  }
}
