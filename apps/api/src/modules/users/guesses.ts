import { setTimeout as delay } from 'node:timers/promises';
import { Injectable } from '@nestjs/common';
import { uuidv7 } from 'uuidv7';
import type { Origin } from '../../platform/auth/by.decorators.js';
import type { Turn } from '../../platform/auth/passwords.js';
import { sha256 } from '../../platform/auth/sessions.js';
import { AppError } from '../../platform/errors/app-error.js';
import { GuessesRepository } from './guesses.repository.js';

/** Guesses in a quarter of an hour: of one account from one address, of any from one address, from a device that it knows. */
const PAIR_LIMIT = 10;
const ADDRESS_LIMIT = 1000;
const DEVICE_LIMIT = 20;
/**
 * From so many on, at an account from wherever or from an address at whatever account, strangers get fewer tries a pair, and each
 * waits: who knows the password still comes in.
 */
const ACCOUNT_GUESSED_AT = 30;
const ADDRESS_GUESSES_FROM = 100;
const PAIR_LIMIT_GUESSED_AT = 3;
const LONGEST_WAIT_MS = 4_000;
const WAIT_MS_A_GUESS = 50;
/** One-time codes are short: so many wrong ones, from wherever, and strangers wait. */
const CODE_LIMIT = 10;
const RETRY_AFTER_S = 900;

/** What is guessed at. `codes` are guesses of somebody who has the password already. */
export interface GuessedAt {
  readonly what: 'password' | 'codes' | 'proof' | 'message';
  /** an e-mail address, or the id of an account */
  readonly of: string;
}

/** A guess that has been counted and may now be checked. */
export interface Guess {
  readonly id: string;
  readonly turn: Turn;
  readonly subjectHash: Buffer;
  readonly addressHash: Buffer;
}

/** IPv6 addresses come in blocks: one line's 64 bits are one address. */
export function toCountedAddress(address: string): string {
  const plain = address.replace(/^::ffff:/, '');
  if (!plain.includes(':')) return plain;
  const [head = '', tail = ''] = plain.split('::', 2) as [string, string?];
  const before = head.split(':').filter(Boolean);
  const after = tail.split(':').filter(Boolean);
  const zeros = Array.from({ length: Math.max(0, 8 - before.length - after.length) }, () => '0');
  return [...before, ...(plain.includes('::') ? zeros : []), ...after].slice(0, 4).join(':');
}

/**
 * Counts guesses before they are checked, so that many at once gain nothing. Slowed are a guesser's address and device; nobody can
 * lock another person out: a device that signed in before has a count of its own, and so has every other address.
 */
@Injectable()
export class Guesses {
  constructor(private readonly repository: GuessesRepository) {}

  /** @throws AppError request.too_many */
  async begin(guessedAt: GuessedAt, origin: Origin): Promise<Guess> {
    const subjectHash = sha256(`${guessedAt.what} ${guessedAt.of.toLowerCase()}`);
    const addressHash = sha256(toCountedAddress(origin.address));
    const deviceHash = await this.findDevice(guessedAt.of, origin.deviceToken);
    const id = uuidv7();
    const keys = { subjectHash, addressHash, deviceHash };
    await this.repository.insert(id, keys);
    const { device, pair, account, address } = await this.repository.count(keys);
    const guess: Guess = { id, subjectHash, addressHash, turn: deviceHash === null ? 'stranger' : 'known' };
    if (deviceHash !== null) {
      if (device > DEVICE_LIMIT) await this.refuse(guess);
      return guess;
    }
    const beyond = Math.max(account - ACCOUNT_GUESSED_AT, address - ADDRESS_GUESSES_FROM);
    if (
      pair > (beyond > 0 ? PAIR_LIMIT_GUESSED_AT : PAIR_LIMIT) ||
      address > ADDRESS_LIMIT ||
      (guessedAt.what === 'codes' && account > CODE_LIMIT)
    ) {
      await this.refuse(guess);
    }
    if (beyond > 0) await delay(Math.min(LONGEST_WAIT_MS, beyond * WAIT_MS_A_GUESS));
    return guess;
  }

  /** It was right: what was guessed before from there is forgotten. */
  succeeded({ id, subjectHash, addressHash }: Guess): Promise<void> {
    return this.repository.succeed(id, subjectHash, addressHash);
  }

  /** It was no guess: it does not count. */
  forget({ id }: Guess): Promise<void> {
    return this.repository.delete(id);
  }

  /** A try that is not checked does not count either, or a guesser would never come to the end of it. */
  private async refuse(guess: Guess): Promise<never> {
    await this.forget(guess);
    throw new AppError('request.too_many', {
      detail: 'Too many attempts. Wait a quarter of an hour, or use a device on which you signed in before.',
      retryAfterS: RETRY_AFTER_S,
    });
  }

  /** The hash of this browser's token, where it signed in to that account before. */
  private async findDevice(account: string, deviceToken: string | null): Promise<Buffer | null> {
    if (deviceToken === null) return null;
    const deviceHash = sha256(deviceToken);
    return (await this.repository.isKnownDevice(deviceHash, account)) ? deviceHash : null;
  }
}
