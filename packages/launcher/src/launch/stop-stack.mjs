/** What has to be stopped, last started first. */
export class StopStack {
  /** @type {(() => Promise<void> | void)[]} */
  #stops = [];
  #isStopping = false;

  get isStopping() {
    return this.#isStopping;
  }

  /**
   * Remembers how to stop something that was started just now; stops it at once when stopping has begun already.
   * @param {() => Promise<void> | void} stop
   */
  async add(stop) {
    if (this.#isStopping) await stop();
    else this.#stops.push(stop);
  }

  /** Stops everything; one failure keeps nothing else from being stopped. */
  async stopAll() {
    this.#isStopping = true;
    /** @type {unknown[]} */
    const errors = [];
    for (let stop = this.#stops.pop(); stop !== undefined; stop = this.#stops.pop()) {
      try {
        await stop();
      } catch (error) {
        errors.push(error);
      }
    }
    if (errors.length > 0) throw new AggregateError(errors, 'not everything could be stopped');
  }
}
