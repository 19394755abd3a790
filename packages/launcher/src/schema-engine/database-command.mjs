import pg from 'pg';
import { errorCode } from '../support/plain-error.mjs';

/** PostgreSQL's and Node's error codes in Prisma's. */
const PRISMA_CODES = new Map([
  ['3D000', 'P1003'],
  ['28P01', 'P1000'],
  ['42P04', 'P1009'],
  ['ECONNREFUSED', 'P1001'],
  ['ENOTFOUND', 'P1001'],
]);

/**
 * Runs one of the engine's commands about a whole database.
 * @param {string} command
 * @param {string} url
 * @returns {Promise<number>} exit code; a failure is told on standard error in the engine's log format
 */
export async function runDatabaseCommand(command, url) {
  const database = decodeURIComponent(new URL(url).pathname.slice(1));
  const server = new URL(url);
  server.pathname = '/postgres';
  const name = pg.escapeIdentifier(database);
  try {
    if (command === 'can-connect-to-database') await query(url, 'SELECT 1');
    else if (command === 'create-database') await query(server.href, `CREATE DATABASE ${name}`);
    else if (command === 'drop-database') await query(server.href, `DROP DATABASE ${name} WITH (FORCE)`);
    else throw new Error(`the engine knows no command ${command}`);
    return 0;
  } catch (error) {
    const fields = {
      error_code: PRISMA_CODES.get(errorCode(error)) ?? 'P1011',
      message: error instanceof Error ? error.message : String(error),
      is_panic: false,
    };
    const line = { timestamp: new Date().toISOString(), level: 'ERROR', fields, target: 'schema_engine' };
    process.stderr.write(`${JSON.stringify(line)}\n`);
    return 1;
  }
}

/**
 * @param {string} url
 * @param {string} sql
 */
async function query(url, sql) {
  const client = new pg.Client({ connectionString: url, connectionTimeoutMillis: 10_000 });
  await client.connect();
  try {
    await client.query(sql);
  } finally {
    await client.end();
  }
}
