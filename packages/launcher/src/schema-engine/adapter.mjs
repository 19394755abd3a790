import { AsyncLocalStorage } from 'node:async_hooks';
import { randomUUID } from 'node:crypto';
import { PrismaPg } from '@prisma/adapter-pg';
import { ColumnTypeEnum } from '@prisma/driver-adapter-utils';

/** Object ids of PostgreSQL types (source: PostgreSQL source, pg_type.dat). */
const CHAR_OID = 18;
const TEXT_OID = 25;

/**
 * What the wasm engine needs of a database, with the gaps of @prisma/adapter-pg 7.10.0 closed:
 * the catalogue's type "char" is not mapped; its shadow database would run on the main one when given a connection
 * string; `executeScript` splits at every semicolon, also inside a function body; the shadow is dropped before its pool ends.
 * @param {string} url
 * @returns {import('@prisma/driver-adapter-utils').SqlMigrationAwareDriverAdapterFactory}
 */
export function toAdapterFactory(url) {
  const { schema, ...config } = toPoolConfig(url);
  const main = new PrismaPg(config, { schema });
  return {
    provider: main.provider,
    adapterName: main.adapterName,
    connect: async () => closeGaps(await main.connect()),
    connectToShadowDb: () => connectToShadow(main, config, schema),
  };
}

/** @type {Set<{ dispose: () => Promise<void> }>} */
const shadows = new Set();

/** Removes every shadow database; waits for those that the engine is removing just now. */
export async function dropShadows() {
  await Promise.all([...shadows].map((shadow) => shadow.dispose()));
}

/**
 * Discrete fields, never a connection string: the adapter spreads `{ ...config, database }` for another database, and in
 * pg a connection string wins over `database`.
 * @param {string} url
 */
function toPoolConfig(url) {
  const { hostname, port, username, password, pathname, searchParams } = new URL(url);
  const isEncrypted = ['require', 'verify-ca', 'verify-full'].includes(searchParams.get('sslmode') ?? '');
  return {
    host: hostname,
    port: Number(port === '' ? 5432 : port),
    user: decodeURIComponent(username),
    password: decodeURIComponent(password),
    database: decodeURIComponent(pathname.slice(1)),
    max: 1,
    ssl: isEncrypted ? {} : undefined,
    schema: searchParams.get('schema') ?? undefined,
  };
}

/**
 * @param {PrismaPg} main
 * @param {import('pg').PoolConfig} config
 * @param {string | undefined} schema
 */
async function connectToShadow(main, config, schema) {
  const admin = await main.connect();
  const name = `prisma_migrate_shadow_db_${randomUUID()}`;
  await admin.executeScript(`CREATE DATABASE "${name}"`);
  const shadow = closeGaps(await new PrismaPg({ ...config, database: name }, { schema }).connect());
  const end = shadow.dispose.bind(shadow);
  /** @type {Promise<void> | undefined} */
  let dropped;
  const drop = async () => {
    // The pool ends first: dropping a database under its own pool breaks the connections that are still in it.
    await end();
    await admin.executeScript(`DROP DATABASE IF EXISTS "${name}" WITH (FORCE)`);
    await admin.dispose();
  };
  shadow.dispose = () => (dropped ??= drop());
  shadows.add(shadow);
  return shadow;
}

/**
 * @template {Awaited<ReturnType<PrismaPg['connect']>>} Adapter
 * @param {Adapter} adapter
 * @returns {Adapter}
 */
function closeGaps(adapter) {
  mapCatalogueChar(adapter);
  // Without arguments pg sends the text as it is, and PostgreSQL itself knows where a statement ends.
  adapter.executeScript = async (script) => {
    await adapter.executeRaw({ sql: script, args: [], argTypes: [] });
  };
  return adapter;
}

/**
 * Gives columns of the catalogue's type "char" through the adapter as text, which it knows, and to the engine as a
 * character, which the engine insists on.
 * @param {Awaited<ReturnType<PrismaPg['connect']>>} adapter
 */
function mapCatalogueChar(adapter) {
  /** @type {AsyncLocalStorage<{ charColumns: number[] }>} which columns of the query under way were "char" */
  const underWay = new AsyncLocalStorage();
  const pool = adapter.underlyingDriver();
  const query = /** @type {(...args: unknown[]) => Promise<import('pg').QueryResult>} */ (pool.query.bind(pool));
  const queryRaw = adapter.queryRaw.bind(adapter);
  Object.assign(pool, {
    /** @param {unknown[]} args */
    query: async (...args) => {
      const result = await query(...args);
      for (const [index, field] of (result.fields ?? []).entries()) {
        if (field.dataTypeID !== CHAR_OID) continue;
        field.dataTypeID = TEXT_OID;
        underWay.getStore()?.charColumns.push(index);
      }
      return result;
    },
  });
  adapter.queryRaw = (sqlQuery) => {
    /** @type {{ charColumns: number[] }} */
    const store = { charColumns: [] };
    return underWay.run(store, async () => {
      const result = await queryRaw(sqlQuery);
      for (const index of store.charColumns) result.columnTypes[index] = ColumnTypeEnum.Character;
      return result;
    });
  };
}
