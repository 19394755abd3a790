interface Waiting<T, R> {
  readonly item: T;
  readonly bytes: number;
  readonly atMs: number;
  readonly resolve: (result: Committed<R>) => void;
  readonly reject: (error: unknown) => void;
}

export interface Committed<R> {
  readonly result: R;
  /** from submission to the begin of its group's commit */
  readonly waitedMs: number;
}

export interface GroupCommitOptions<T, R> {
  /** commits all items of a group, or none; one result for each */
  readonly commit: (items: readonly T[]) => Promise<readonly R[]>;
  /** is it the fault of a single item perhaps, so that the others may do without it? */
  readonly isOfOneItem: (error: unknown) => boolean;
  readonly mostItems: number;
  readonly mostBytes: number;
  /** how long a group waits for company while many arrive [ms] */
  readonly lingerMs: number;
}

/**
 * Gathers what arrives while a commit is under way and commits it together next. The first of a quiet time goes at once; while
 * many arrive, a group waits a moment for as much company as the one before had. An item that spoils its group is found by
 * committing the group one by one.
 */
export class GroupCommit<T, R> {
  private waiting: Waiting<T, R>[] = [];
  private waitingBytes = 0;
  private running: Promise<void> | null = null;
  private lastSize = 0;
  private wake: (() => void) | null = null;

  constructor(private readonly options: GroupCommitOptions<T, R>) {}

  /** Bytes that wait; a door may turn others away by it. */
  get load(): number {
    return this.waitingBytes;
  }

  /** Settles once the item is committed, or could not be. */
  submit(item: T, bytes: number): Promise<Committed<R>> {
    return new Promise((resolve, reject) => {
      this.waiting.push({ item, bytes, atMs: performance.now(), resolve, reject });
      this.waitingBytes += bytes;
      if (this.waiting.length >= this.lastSize) this.wake?.();
      this.running ??= this.run();
    });
  }

  /** Waits until nothing is under way. */
  async rest(): Promise<void> {
    while (this.running !== null) await this.running;
  }

  private async run(): Promise<void> {
    // What the same turn of the event loop brings belongs together.
    await new Promise((resolve) => setImmediate(resolve));
    while (this.waiting.length > 0) {
      if (this.lastSize > 1 && this.waiting.length < this.lastSize) await this.linger();
      const group = this.take();
      this.lastSize = group.length;
      await this.commit(group);
    }
    this.lastSize = 0;
    this.running = null;
  }

  private linger(): Promise<void> {
    return new Promise((resolve) => {
      const timer = setTimeout(() => this.wake?.(), this.options.lingerMs);
      this.wake = () => {
        clearTimeout(timer);
        this.wake = null;
        resolve();
      };
    });
  }

  private take(): Waiting<T, R>[] {
    const group: Waiting<T, R>[] = [];
    let bytes = 0;
    for (const waiting of this.waiting) {
      if (
        group.length > 0 &&
        (group.length >= this.options.mostItems || bytes + waiting.bytes > this.options.mostBytes)
      )
        break;
      group.push(waiting);
      bytes += waiting.bytes;
    }
    this.waiting = this.waiting.slice(group.length);
    this.waitingBytes -= bytes;
    return group;
  }

  private async commit(group: readonly Waiting<T, R>[]): Promise<void> {
    const beganMs = performance.now();
    try {
      const results = await this.options.commit(group.map(({ item }) => item));
      for (const [index, { resolve, atMs }] of group.entries()) {
        resolve({ result: results[index] as R, waitedMs: beganMs - atMs });
      }
    } catch (error) {
      if (group.length > 1 && this.options.isOfOneItem(error)) {
        for (const waiting of group) await this.commit([waiting]);
      } else {
        for (const { reject } of group) reject(error);
      }
    }
  }
}
