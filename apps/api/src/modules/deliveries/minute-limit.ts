interface Bucket {
  tokens: number;
  atMs: number;
}

const MOST_BUCKETS = 20_000;

/** So many a minute for each key, with as many in a burst. Of this process alone: several processes allow as many times more. */
export class MinuteLimit {
  private readonly buckets = new Map<string, Bucket>();

  constructor(private readonly perMinute: number) {}

  /** Takes one; otherwise how long to wait [s], at least 1. */
  take(key: string, nowMs: number): number {
    const before = this.buckets.get(key);
    if (before === undefined && this.buckets.size >= MOST_BUCKETS) this.buckets.clear();
    const bucket = before ?? { tokens: this.perMinute, atMs: nowMs };
    const grown = bucket.tokens + ((nowMs - bucket.atMs) / 60_000) * this.perMinute;
    const tokens = Math.min(this.perMinute, Math.max(grown, 0));
    if (tokens < 1) {
      this.buckets.set(key, { tokens, atMs: nowMs });
      return Math.max(1, Math.ceil(((1 - tokens) * 60) / this.perMinute));
    }
    this.buckets.set(key, { tokens: tokens - 1, atMs: nowMs });
    return 0;
  }
}
