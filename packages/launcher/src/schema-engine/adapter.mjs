import { randomUUID } from 'node:crypto';
import { PrismaPg } from '@prisma/adapter-pg';

/** Object ids of PostgreSQL types (source: PostgreSQL source, pg_type.dat). */
const CHAR_OID = 18;
const BPCHAR_OID = 1042;

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
  shadow.dispose = async () => {
    await end();
    await admin.executeScript(`DROP DATABASE IF EXISTS "${name}" WITH (FORCE)`);
    await admin.dispose();
  };
  return shadow;
}

/**
 * @template {Awaited<ReturnType<PrismaPg['connect']>>} Adapter
 * @param {Adapter} adapter
 * @returns {Adapter}
 */
function closeGaps(adapter) {
  mapCatalogueChar(adapter.underlyingDriver());
  // Without arguments pg sends the text as it is, and PostgreSQL itself knows where a statement ends.
  adapter.executeScript = async (script) => {
    await adapter.executeRaw({ sql: script, args: [], argTypes: [] });
  };
  return adapter;
}

/**
 * Gives columns of the catalogue's type "char" as char(1), which the adapter knows.
 * @param {import('pg').Pool} pool
 */
function mapCatalogueChar(pool) {
  const query = /** @type {(...args: unknown[]) => Promise<import('pg').QueryResult>} */ (pool.query.bind(pool));
  Object.assign(pool, {
    /** @param {unknown[]} args */
    query: async (...args) => {
      const result = await query(...args);
      for (const field of result.fields ?? []) if (field.dataTypeID === CHAR_OID) field.dataTypeID = BPCHAR_OID;
      return result;
    },
  });
}
