/**
 * What a backup is: a tar, compressed, encrypted where asked. First `begin.json`, then the rows of each table as PostgreSQL's COPY
 * writes them in text, in parts of a size that fits into memory, last `end.json` with what only the end knows. A file without its
 * end is no backup.
 */
export const FORMAT = 1;
export const BEGIN = 'begin.json';
export const END = 'end.json';
export const SECRET = 'app-secret';
const ROWS = /^rows\/([a-z_][a-z0-9_]*)\.([a-z_][a-z0-9_]*)\/\d{8}$/;

/**
 * @typedef {object} BackedUpTable
 * @property {string} schema
 * @property {string} name
 * @property {string[]} columns
 *
 * @typedef {object} Begin
 * @property {number} format
 * @property {string} product version of the program
 * @property {string} server version of PostgreSQL
 * @property {string} madeAt
 * @property {{ name: string, checksum: string }[]} migrations in order
 * @property {number} queue the newest migration of the job queue
 * @property {string[]} countMonths tables of alarm counts, a month each
 * @property {BackedUpTable[]} tables
 *
 * @typedef {object} End
 * @property {{ table: string, rows: number, sha256: string }[]} tables
 * @property {{ schema: string, name: string, value: string, isCalled: boolean }[]} sequences
 */

/**
 * @param {{ schema: string, name: string }} table
 * @param {number} part
 */
export function toRowsName({ schema, name }, part) {
  return `rows/${schema}.${name}/${String(part).padStart(8, '0')}`;
}

/**
 * The table of a part of rows; null for another entry.
 * @param {string} name
 */
export function readRowsName(name) {
  const [, schema, table] = ROWS.exec(name) ?? [];
  return schema === undefined || table === undefined ? null : `${schema}.${table}`;
}
