import { Injectable } from '@nestjs/common';
import { hash, verify } from '@node-rs/argon2';
import { AppError } from '../errors/app-error.js';

/** Argon2id, 19 MiB, two passes, one lane (OWASP password storage cheat sheet). */
const OPTIONS = { memoryCost: 19_456, timeCost: 2, parallelism: 1 } as const;
/** At most so many at once: a flood of sign-ins must not take both cores from everything else. */
const AT_ONCE = 2;
/** Of strangers so many wait; known devices wait in a line of their own, which goes first. */
const STRANGERS_WAITING = 40;
const KNOWN_WAITING = 200;

/** Whose turn it is: somebody on a device that signed in to the account before, or anybody. */
export type Turn = 'known' | 'stranger';

@Injectable()
export class Passwords {
  private running = 0;
  private readonly waiting: Record<Turn, (() => void)[]> = { known: [], stranger: [] };
  private decoy: Promise<string> | null = null;

  hash(password: string): Promise<string> {
    return this.inTurn('known', () => hash(password, OPTIONS));
  }

  /** Takes as long for a person who does not exist (`stored` null) as for one who does. */
  async matches(stored: string | null, password: string, turn: Turn): Promise<boolean> {
    this.decoy ??= hash('nobody has this password', OPTIONS);
    const against = stored ?? (await this.decoy);
    const right = await this.inTurn(turn, () => verify(against, password));
    return stored !== null && right;
  }

  private async inTurn<T>(turn: Turn, work: () => Promise<T>): Promise<T> {
    if (this.running >= AT_ONCE) {
      const line = this.waiting[turn];
      if (line.length >= (turn === 'known' ? KNOWN_WAITING : STRANGERS_WAITING)) {
        throw new AppError('service.unavailable', { detail: 'Too many people sign in just now.', retryAfterS: 3 });
      }
      // Whoever ends hands over the place, so that nobody new slips in between.
      await new Promise<void>((resolve) => line.push(resolve));
    } else {
      this.running += 1;
    }
    try {
      return await work();
    } finally {
      const next = this.waiting.known.shift() ?? this.waiting.stranger.shift();
      if (next === undefined) this.running -= 1;
      else next();
    }
  }
}
