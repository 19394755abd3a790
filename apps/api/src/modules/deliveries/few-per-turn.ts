/**
 * Lets so many go in each turn of the event loop, in the order in which they came. Between two turns the answers of the database are
 * heard: otherwise a group that is being written waits until everybody who knocked meanwhile has been read.
 */
export class FewPerTurn {
  private waiting: { bytes: number; resolve: () => void }[] = [];
  private waitingBytes = 0;
  private isTurning = false;

  constructor(private readonly most: number) {}

  /** Bytes that wait; a door may turn others away by it. */
  get load(): number {
    return this.waitingBytes;
  }

  /** Settles when it is the caller's turn. */
  turn(bytes: number): Promise<void> {
    return new Promise((resolve) => {
      this.waiting.push({ bytes, resolve });
      this.waitingBytes += bytes;
      if (this.isTurning) return;
      this.isTurning = true;
      setImmediate(() => this.next());
    });
  }

  private next(): void {
    for (const { bytes, resolve } of this.waiting.splice(0, this.most)) {
      this.waitingBytes -= bytes;
      resolve();
    }
    this.isTurning = this.waiting.length > 0;
    if (this.isTurning) setImmediate(() => this.next());
  }
}
