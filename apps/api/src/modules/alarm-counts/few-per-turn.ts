/**
 * Lets so many go in each turn of the event loop, in the order in which they came. Between two turns the answers of the database are
 * heard: otherwise a group that is being written waits until everybody who knocked meanwhile has been read.
 */
export class FewPerTurn {
  private waiting: (() => void)[] = [];
  private isTurning = false;

  constructor(private readonly most: number) {}

  /** Settles when it is the caller's turn. */
  turn(): Promise<void> {
    return new Promise((resolve) => {
      this.waiting.push(resolve);
      if (this.isTurning) return;
      this.isTurning = true;
      setImmediate(() => this.next());
    });
  }

  private next(): void {
    for (const resolve of this.waiting.splice(0, this.most)) resolve();
    this.isTurning = this.waiting.length > 0;
    if (this.isTurning) setImmediate(() => this.next());
  }
}
