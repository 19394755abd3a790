import { AppError } from '../errors/app-error.js';
import { FairLine, type Share } from '../fair-line.js';

/** How many may wait for a connection. */
const BOUNDS = { person: 100, organisation: 300, all: 1000 };
const LONGEST_WAIT_MS = 20_000;
const COME_BACK_S = 3;

interface Waiting {
  readonly share: Share;
  readonly begin: () => void;
}

/**
 * Who may hold a connection of the database. Nobody holds more than half of them, no organisation all but one, and whoever waits is
 * served in fair turns: requests of one person, however many and however slow, keep nobody else from theirs.
 */
export class ConnectionPlaces {
  private readonly line = new FairLine<Waiting>(BOUNDS);
  private readonly most: { person: number; organisation: number };
  private readonly held = new Map<string, number>();
  private free: number;

  constructor(
    places: number,
    private readonly longestWaitMs = LONGEST_WAIT_MS,
  ) {
    this.free = places;
    this.most = { person: Math.max(1, Math.floor(places / 2)), organisation: Math.max(1, places - 1) };
  }

  /** @throws AppError request.too_many where it is one's own that waits, service.busy where it is everybody's */
  async hold<T>(share: Share, work: () => Promise<T>): Promise<T> {
    await this.enter(share);
    try {
      return await work();
    } finally {
      this.leave(share);
    }
  }

  private enter(share: Share): Promise<void> {
    return new Promise((resolve, reject) => {
      const timer = setTimeout(() => {
        this.line.leave(share, waiting);
        reject(this.refusal(share));
      }, this.longestWaitMs);
      const waiting: Waiting = {
        share,
        begin: () => {
          clearTimeout(timer);
          resolve();
        },
      };
      if (!this.line.join(share, waiting)) {
        clearTimeout(timer);
        reject(this.refusal(share));
        return;
      }
      this.startNext();
    });
  }

  private leave(share: Share): void {
    this.free += 1;
    for (const key of keysOf(share)) {
      const left = (this.held.get(key) ?? 0) - 1;
      if (left > 0) this.held.set(key, left);
      else this.held.delete(key);
    }
    this.startNext();
  }

  private startNext(): void {
    while (this.free > 0) {
      const next = this.line.take((share) => this.mayHold(share));
      if (next === undefined) return;
      this.free -= 1;
      for (const key of keysOf(next.share)) this.held.set(key, (this.held.get(key) ?? 0) + 1);
      next.begin();
    }
  }

  private mayHold(share: Share): boolean {
    const [person, organisation] = keysOf(share).map((key) => this.held.get(key) ?? 0);
    return (person ?? 0) < this.most.person && (organisation ?? 0) < this.most.organisation;
  }

  private refusal(share: Share): AppError {
    return this.mayHold(share)
      ? new AppError('service.busy', { detail: 'Too much is waiting for the database.', retryAfterS: COME_BACK_S })
      : new AppError('request.too_many', {
          detail: 'Too much of yours is still being answered.',
          retryAfterS: COME_BACK_S,
        });
  }
}

const keysOf = ({ organisation, person }: Share): readonly [person: string, organisation: string] => [
  `person ${organisation} ${person}`,
  `organisation ${organisation}`,
];
