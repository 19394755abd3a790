import pg from 'pg';
import { errorCode, PlainError } from '../support/plain-error.mjs';

/** The oldest PostgreSQL whose row security and views (security_invoker) do what the schema needs. */
const OLDEST_MAJOR = 15;

/**
 * Opens a connection, runs `work` and closes it.
 * @template T
 * @param {string} url
 * @param {(client: pg.Client) => Promise<T>} work
 * @returns {Promise<T>}
 * @throws {PlainError} when the server does not answer or refuses the login
 */
export async function withConnection(url, work) {
  const client = new pg.Client({ connectionString: url, connectionTimeoutMillis: 15_000 });
  // Without a listener a connection that breaks while idle would end the process.
  client.on('error', () => undefined);
  try {
    await client.connect();
  } catch (error) {
    throw toConnectionError(url, error);
  }
  try {
    return await work(client);
  } finally {
    await client.end();
  }
}

/**
 * @param {{ query: (sql: string) => Promise<{ rows: { server_version: string }[] }> }} client
 * @throws {PlainError} when the server is older than PostgreSQL 15
 */
export async function assertServerVersion(client) {
  const { rows } = await client.query('SHOW server_version');
  const version = rows[0]?.server_version ?? 'unknown';
  if (Number.parseInt(version, 10) >= OLDEST_MAJOR) return;
  throw new PlainError(
    `This PostgreSQL is version ${version}; version ${OLDEST_MAJOR} or later is needed.`,
    'Upgrade the server, or leave out DATABASE_OWNER_URL and DATABASE_URL to use the PostgreSQL that comes along.',
  );
}

/**
 * The same server and options, with another login or database.
 * @param {string} url
 * @param {{ user?: string, password?: string, database?: string }} change
 * @returns {string}
 */
export function withUrlParts(url, { user, password, database }) {
  const changed = new URL(url);
  if (user !== undefined) changed.username = encodeURIComponent(user);
  if (password !== undefined) changed.password = encodeURIComponent(password);
  if (database !== undefined) changed.pathname = `/${encodeURIComponent(database)}`;
  return changed.href;
}

/**
 * @param {string} url
 * @returns {{ user: string, password: string, database: string }}
 */
export function parseUrlParts(url) {
  const parsed = new URL(url);
  return {
    user: decodeURIComponent(parsed.username),
    password: decodeURIComponent(parsed.password),
    database: decodeURIComponent(parsed.pathname.slice(1)),
  };
}

/**
 * @param {string} url
 * @param {unknown} error
 */
export function toConnectionError(url, error) {
  const { user, database } = parseUrlParts(url);
  const place = `${new URL(url).host}, database "${database}"`;
  const code = errorCode(error);
  if (code === '28P01' || code === '28000') {
    return new PlainError(
      `PostgreSQL at ${place} refuses the login "${user}".`,
      'Check the name and password in the URL.',
      error,
    );
  }
  if (code === '3D000') {
    return new PlainError(
      `There is no database "${database}" at ${place}.`,
      `Create it: CREATE DATABASE ${database};`,
      error,
    );
  }
  const reason = error instanceof Error ? error.message || code : String(error);
  return new PlainError(
    `PostgreSQL at ${place} does not answer (${reason}).`,
    'Check that it runs and that host and port are right.',
    error,
  );
}
