/// <reference path="./streams.d.ts" />
import { pack as createPack } from 'tar-stream';

/** Writes one entry after the other, no faster than they are read. */
export class TarWriter {
  #pack = createPack();
  #isOver = false;
  /** Whoever waits for room. */
  #giveUp = () => {};

  constructor() {
    // A reader that has gone calls nobody back.
    this.#pack.on('close', () => {
      this.#isOver = true;
      this.#giveUp();
    });
    // Told to the reader of the bytes; without a listener it would end the process where there is none yet.
    this.#pack.on('error', () => this.#giveUp());
  }

  /** @returns {AsyncIterable<Uint8Array>} */
  get bytes() {
    return this.#pack;
  }

  /**
   * Resolves when there is room for more.
   * @param {string} name
   * @param {Uint8Array} bytes
   * @returns {Promise<void>}
   */
  entry(name, bytes) {
    return new Promise((resolve, reject) => {
      this.#giveUp = () => reject(new Error('nobody reads the backup any more'));
      if (this.#isOver) this.#giveUp();
      else this.#pack.entry({ name, size: bytes.length }, (error) => (error ? reject(error) : resolve())).end(bytes);
    });
  }

  /**
   * @param {string} name
   * @param {object} value
   */
  json(name, value) {
    return this.entry(name, Buffer.from(`${JSON.stringify(value, null, 1)}\n`));
  }

  finish() {
    this.#pack.finalize();
  }

  /** @param {unknown} error */
  fail(error) {
    this.#pack.destroy(error instanceof Error ? error : new Error(String(error)));
  }
}
