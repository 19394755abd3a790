import { createCipheriv, createDecipheriv, hkdfSync, randomBytes } from 'node:crypto';
import { Inject, Injectable } from '@nestjs/common';
import { ENV, type Env } from '../../config/env.js';

const PREFIX = 'whsec_';
const SECRET_BYTES = 32;
const NONCE_BYTES = 12;
const TAG_BYTES = 16;
/** Written first, so that another way of sealing can follow. */
const FORM = 1;

/** Makes secrets of sources and seals them for the database: AES-256-GCM, bound to their source, key derived from APP_SECRET. */
@Injectable()
export class SourceSecrets {
  private readonly key: Buffer;

  constructor(@Inject(ENV) env: Env) {
    this.key = Buffer.from(hkdfSync('sha256', env.APP_SECRET, '', 'secrets of sources', 32));
  }

  /** A new secret as its gateway gets it. */
  make(): string {
    return PREFIX + randomBytes(SECRET_BYTES).toString('base64');
  }

  seal(sourceId: string, secret: string): Buffer {
    const nonce = randomBytes(NONCE_BYTES);
    const cipher = createCipheriv('aes-256-gcm', this.key, nonce).setAAD(Buffer.from(sourceId));
    const sealed = Buffer.concat([cipher.update(Buffer.from(secret.slice(PREFIX.length), 'base64')), cipher.final()]);
    return Buffer.concat([Uint8Array.of(FORM), nonce, cipher.getAuthTag(), sealed]);
  }

  /** The bytes that sign; throws when it was sealed for another source or under another APP_SECRET. */
  open(sourceId: string, sealed: Buffer): Buffer {
    const nonce = sealed.subarray(1, 1 + NONCE_BYTES);
    const decipher = createDecipheriv('aes-256-gcm', this.key, nonce).setAAD(Buffer.from(sourceId));
    decipher.setAuthTag(sealed.subarray(1 + NONCE_BYTES, 1 + NONCE_BYTES + TAG_BYTES));
    return Buffer.concat([decipher.update(sealed.subarray(1 + NONCE_BYTES + TAG_BYTES)), decipher.final()]);
  }
}
