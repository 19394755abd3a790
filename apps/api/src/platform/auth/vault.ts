import { createCipheriv, createDecipheriv, hkdfSync, randomBytes } from 'node:crypto';
import { Inject, Injectable } from '@nestjs/common';
import { ENV, type Env } from '../../config/env.js';

const NONCE_BYTES = 12;
const TAG_BYTES = 16;
/** Written first, so that another way of sealing can follow. */
const FORM = 1;

/** Whose secret it is, and of what kind: what is sealed for one is opened for no other. */
export interface SealedFor {
  /** names the key; each purpose has its own */
  readonly purpose: string;
  /** id of the record that the secret belongs to */
  readonly owner: string;
}

/** Seals secrets that must be read again (AES-256-GCM, bound to their owner, keys derived from APP_SECRET). */
@Injectable()
export class Vault {
  private readonly keys = new Map<string, Buffer>();

  constructor(@Inject(ENV) private readonly env: Env) {}

  seal({ purpose, owner }: SealedFor, secret: Uint8Array): Buffer {
    const nonce = randomBytes(NONCE_BYTES);
    const cipher = createCipheriv('aes-256-gcm', this.keyOf(purpose), nonce).setAAD(Buffer.from(owner));
    const sealed = Buffer.concat([cipher.update(secret), cipher.final()]);
    return Buffer.concat([Uint8Array.of(FORM), nonce, cipher.getAuthTag(), sealed]);
  }

  /** The secret; throws when it was sealed for another owner or purpose, or under another APP_SECRET. */
  open({ purpose, owner }: SealedFor, sealed: Uint8Array): Buffer {
    const bytes = Buffer.from(sealed);
    const nonce = bytes.subarray(1, 1 + NONCE_BYTES);
    const decipher = createDecipheriv('aes-256-gcm', this.keyOf(purpose), nonce).setAAD(Buffer.from(owner));
    decipher.setAuthTag(bytes.subarray(1 + NONCE_BYTES, 1 + NONCE_BYTES + TAG_BYTES));
    return Buffer.concat([decipher.update(bytes.subarray(1 + NONCE_BYTES + TAG_BYTES)), decipher.final()]);
  }

  /** The secret; null where `open` throws. */
  tryOpen(sealedFor: SealedFor, sealed: Uint8Array): Buffer | null {
    try {
      return this.open(sealedFor, sealed);
    } catch {
      // Whatever the cipher does not take was sealed for somebody else, or bent.
      return null;
    }
  }

  private keyOf(purpose: string): Buffer {
    const known = this.keys.get(purpose);
    if (known !== undefined) return known;
    const key = Buffer.from(hkdfSync('sha256', this.env.APP_SECRET, '', purpose, 32));
    this.keys.set(purpose, key);
    return key;
  }
}
