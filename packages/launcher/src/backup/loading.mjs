/// <reference path="./streams.d.ts" />
import { createHash } from 'node:crypto';
import { from as copyFrom } from 'pg-copy-streams';
import { PlainError } from '../support/plain-error.mjs';
import { toName } from './catalogue.mjs';
import { notWhole } from './not-whole.mjs';

/** @typedef {import('pg').Client} Client */
/** @typedef {{ rows: number, sha256: string }} Loaded */

/** Rows on their way into one table after the other, each chunk written before the next is read. */
export class Loading {
  #client;
  #tables;
  #file;
  /** @type {{ table: string, stream: ReturnType<typeof copyFrom>, hash: import('node:crypto').Hash } | null} */
  #open = null;
  /** @type {Error | null} */
  #refusal = null;
  /** Whoever waits for the database to take a chunk. */
  #refuse = () => {};
  /** @type {Map<string, Loaded>} */
  #loaded = new Map();

  /**
   * @param {Client} client
   * @param {Map<string, import('./format.mjs').BackedUpTable>} tables
   * @param {string} file
   */
  constructor(client, tables, file) {
    this.#client = client;
    this.#tables = tables;
    this.#file = file;
  }

  /**
   * @param {string} name
   * @param {AsyncIterable<Uint8Array>} bytes
   */
  async add(name, bytes) {
    if (this.#open?.table !== name) await this.#begin(name);
    const open = this.#open;
    if (open === null) throw new Error('no table is open');
    for await (const chunk of bytes) {
      open.hash.update(chunk);
      await this.#unlessRefused((done) => open.stream.write(chunk, () => done()));
    }
  }

  /** @returns {Promise<Map<string, Loaded>>} */
  async finish() {
    const open = this.#open;
    if (open === null) return this.#loaded;
    await this.#unlessRefused((done) => open.stream.end(() => done()));
    this.#loaded.set(open.table, { rows: open.stream.rowCount, sha256: open.hash.digest('hex') });
    this.#open = null;
    return this.#loaded;
  }

  /** @param {string} name */
  async #begin(name) {
    await this.finish();
    const table = this.#tables.get(name);
    if (table === undefined || this.#loaded.has(name))
      throw notWhole(this.#file, `${name} is in it where it should not be`);
    const columns = table.columns.map((column) => this.#client.escapeIdentifier(column)).join(', ');
    const stream = this.#client.query(copyFrom(`COPY ${toName(this.#client, table)} (${columns}) FROM STDIN`));
    stream.on('error', (error) => {
      this.#refusal ??= toRowError(error, name, this.#file);
      this.#refuse();
    });
    this.#open = { table: name, stream, hash: createHash('sha256') };
  }

  /**
   * The stream calls nobody back once the database has refused a row.
   * @param {(done: () => void) => void} begin
   */
  async #unlessRefused(begin) {
    if (this.#refusal === null) {
      await new Promise((resolve) => {
        this.#refuse = () => resolve(undefined);
        begin(() => resolve(undefined));
      });
    }
    if (this.#refusal !== null) throw this.#refusal;
  }
}

/**
 * @param {Error} error
 * @param {string} table
 * @param {string} file
 */
function toRowError(error, table, file) {
  return new PlainError(
    `The rows of ${table} in ${file} were refused (${error.message}).`,
    'If the disk of the database is full, free some space. Otherwise take another copy of the file. Nothing was restored.',
    error,
  );
}
