import { Injectable } from '@nestjs/common';
import { hash, verify } from '@node-rs/argon2';

/** Argon2id, 19 MiB, two passes, one lane (OWASP password storage cheat sheet). */
const OPTIONS = { memoryCost: 19_456, timeCost: 2, parallelism: 1 } as const;
/** At most so many at once: a flood of sign-ins must not take both cores from everything else. */
const AT_ONCE = 2;

@Injectable()
export class Passwords {
  private running = 0;
  private readonly waiting: (() => void)[] = [];
  private decoy: Promise<string> | null = null;

  hash(password: string): Promise<string> {
    return this.inTurn(() => hash(password, OPTIONS));
  }

  /** Takes as long for a person who does not exist (`stored` null) as for one who does. */
  async matches(stored: string | null, password: string): Promise<boolean> {
    this.decoy ??= hash('nobody has this password', OPTIONS);
    const against = stored ?? (await this.decoy);
    const right = await this.inTurn(() => verify(against, password));
    return stored !== null && right;
  }

  private async inTurn<T>(work: () => Promise<T>): Promise<T> {
    if (this.running >= AT_ONCE) await new Promise<void>((resolve) => this.waiting.push(resolve));
    this.running += 1;
    try {
      return await work();
    } finally {
      this.running -= 1;
      this.waiting.shift()?.();
    }
  }
}
