import { setTimeout as delay } from 'node:timers/promises';

/** @typedef {(text: string) => void} Tell */

/**
 * @typedef {object} Run one life of a process
 * @property {Promise<string>} ended resolves with a sentence when it ends, wanted or not
 * @property {() => Promise<void>} stop
 */

const MINUTE_MS = 60_000;
const DEATHS_A_MINUTE = 5;
const FIRST_PAUSE_MS = 250;

/**
 * Something that is started again when it dies: after a quarter of a second, and twice as long after each further death of the same
 * minute. The fifth within a minute is the last: what dies that often does not get well by itself, and somebody has to know.
 */
export class Supervised {
  #start;
  #tell;
  #name;
  #isTireless;
  /** it ends because somebody wants the next life, which is no death */
  #isRenewed = false;
  #pause = new AbortController();
  /** @type {Run | null} */
  #run = null;
  /** @type {number[]} */
  #deaths = [];
  #stopping = new AbortController();
  #starting = Promise.resolve();

  /**
   * @param {object} input
   * @param {string} input.name as the terminal says it: "the API"
   * @param {() => Promise<Run>} input.start resolves when it does its work again
   * @param {Tell} input.tell
   * @param {boolean} [input.isTireless] no death is the last
   */
  constructor({ name, start, tell, isTireless = false }) {
    this.#name = name;
    this.#start = start;
    this.#tell = tell;
    this.#isTireless = isTireless;
  }

  /**
   * The first life. One that does not come about is not tried again: what is wrong then was wrong before.
   * @param {() => Promise<Run>} [start] where the first start is another one
   */
  async begin(start = this.#start) {
    await this.#keep(start());
  }

  /**
   * Watches from the first life on.
   * @returns {Promise<string | null>} why it was given up; null when it was stopped
   */
  async watch() {
    let sentence = (await this.#run?.ended) ?? `${this.#name} was not started`;
    while (!this.#isStopping) {
      if (!this.#isRenewed) {
        const pauseMs = this.#countDeath();
        if (pauseMs === null) {
          return `${sentence}. It died ${DEATHS_A_MINUTE} times within a minute, so it is not started again`;
        }
        this.#tell(`${sentence}; it is started again in ${pauseMs / 1000} s`);
        this.#pause = new AbortController();
        const signal = AbortSignal.any([this.#stopping.signal, this.#pause.signal]);
        await delay(pauseMs, undefined, { signal }).catch(() => undefined);
        if (this.#isStopping) break;
      }
      sentence = await this.#live();
    }
    return null;
  }

  /** Ends this life and begins the next at once, also one that waits for it after a death. */
  async renew() {
    this.#isRenewed = true;
    this.#pause.abort();
    await this.#starting;
    await this.#run?.stop();
  }

  async stop() {
    this.#stopping.abort();
    await this.#starting;
    await this.#run?.stop();
  }

  get #isStopping() {
    return this.#stopping.signal.aborted;
  }

  /** @returns {Promise<string>} the sentence of its end, or of a start that failed */
  async #live() {
    this.#isRenewed = false;
    try {
      const { ended } = await this.#keep(this.#start());
      if (!this.#isStopping) this.#tell(`${this.#name} answers again`);
      return await ended;
    } catch (error) {
      return `${this.#name} could not be started again (${error instanceof Error ? error.message : String(error)})`;
    }
  }

  /**
   * Whoever stops waits for a start that is under way, and stops what it started.
   * @param {Promise<Run>} starting
   * @returns {Promise<Run>}
   */
  #keep(starting) {
    this.#starting = starting.then(
      (run) => void (this.#run = run),
      () => undefined,
    );
    return starting;
  }

  /** @returns {number | null} how long to wait, or null when it was the last */
  #countDeath() {
    const now = performance.now();
    this.#deaths = [...this.#deaths.filter((at) => now - at < MINUTE_MS), now];
    if (this.#deaths.length >= DEATHS_A_MINUTE && !this.#isTireless) return null;
    return FIRST_PAUSE_MS * 2 ** (this.#deaths.length - 1);
  }
}
