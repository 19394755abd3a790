import { errorCode } from '../support/plain-error.mjs';
import { withConnection } from './connection.mjs';

/** So many months of counts are kept, and so many made ahead. */
const KEPT_MONTHS = 25;
const MONTHS_AHEAD = 12;
const LOCK_MS = 2_000;
const LOCK_NOT_AVAILABLE = '55P03';

/**
 * Makes the monthly tables of alarm counts that are to come, drops those that are past keeping, and deletes receipts of deliveries
 * that no sender repeats any more (older than 30 days, which the database's own policy says as well). Safe at any time: a table that
 * cannot be had within two seconds waits for the next time.
 * @param {{ ownerUrl: string, now?: Date }} input
 * @returns {Promise<{ made: string[], dropped: string[], receipts: number }>}
 */
export function keepCountMonths({ ownerUrl, now = new Date() }) {
  return withConnection(ownerUrl, async (client) => {
    await client.query(`SET lock_timeout = ${LOCK_MS}`);
    const { rows } = await client.query(
      `SELECT c.relname AS name FROM pg_inherits i JOIN pg_class c ON c.oid = i.inhrelid
       WHERE i.inhparent = 'alarm_counts'::regclass AND c.relname ~ '^alarm_counts_\\d{4}_\\d{2}$' ORDER BY 1`,
    );
    const there = rows.map((row) => String(row.name));
    const made = [];
    for (let ahead = 0; ahead <= MONTHS_AHEAD; ahead += 1) {
      const name = toName(now, ahead);
      const isMade =
        !there.includes(name) &&
        (await unlessBusy(client, () => makeMonth(client, name, toMonth(now, ahead), toMonth(now, ahead + 1))));
      if (isMade) made.push(name);
    }
    const oldest = toName(now, -KEPT_MONTHS);
    const dropped = [];
    for (const name of there.filter((one) => one < oldest)) {
      const isGone = await unlessBusy(client, async () => {
        await client.query(`ALTER TABLE alarm_counts DETACH PARTITION ${name}`);
        await client.query(`DROP TABLE ${name}`);
      });
      if (isGone) dropped.push(name);
    }
    const { rowCount } = await client.query(`DELETE FROM deliveries WHERE received_at < now() - interval '30 days'`);
    return { made, dropped, receipts: rowCount ?? 0 };
  });
}

/** @param {Date} now @param {number} ahead */
const toMonth = (now, ahead) =>
  new Date(Date.UTC(now.getUTCFullYear(), now.getUTCMonth() + ahead, 1)).toISOString().slice(0, 10);
/** @param {Date} now @param {number} ahead */
const toName = (now, ahead) => `alarm_counts_${toMonth(now, ahead).slice(0, 7).replace('-', '_')}`;

/**
 * What came before its month was made waits in the default partition and moves along.
 * @param {import('pg').Client} client
 * @param {string} name
 * @param {string} from
 * @param {string} to
 */
async function makeMonth(client, name, from, to) {
  const within = `from_at >= '${from}' AND from_at < '${to}'`;
  await client.query(`CREATE TABLE ${name} (LIKE alarm_counts INCLUDING DEFAULTS INCLUDING CONSTRAINTS)`);
  await client.query('ALTER TABLE alarm_counts_other NO FORCE ROW LEVEL SECURITY');
  await client.query(`INSERT INTO ${name} SELECT * FROM alarm_counts_other WHERE ${within}`);
  await client.query(`DELETE FROM alarm_counts_other WHERE ${within}`);
  await client.query('ALTER TABLE alarm_counts_other FORCE ROW LEVEL SECURITY');
  await client.query(`ALTER TABLE ${name} ENABLE ROW LEVEL SECURITY`);
  await client.query(`ALTER TABLE ${name} FORCE ROW LEVEL SECURITY`);
  await client.query(`ALTER TABLE alarm_counts ATTACH PARTITION ${name} FOR VALUES FROM ('${from}') TO ('${to}')`);
}

/**
 * Makes and drops empty months until exactly these are there, in the transaction of whoever asks.
 * @param {import('pg').Client} client
 * @param {{ there: string[], wanted: string[] }} names
 */
export async function setCountMonths(client, { there, wanted }) {
  for (const name of there.filter((one) => !wanted.includes(one))) {
    await client.query(`DROP TABLE ${client.escapeIdentifier(name)}`);
  }
  for (const name of wanted.filter((one) => !there.includes(one))) {
    const [, year, month] = /^alarm_counts_(\d{4})_(\d{2})$/.exec(name) ?? [];
    if (year === undefined || month === undefined) throw new Error(`${name} is no month of alarm counts`);
    const first = new Date(Date.UTC(Number(year), Number(month) - 1, 1));
    await makeMonth(client, name, toMonth(first, 0), toMonth(first, 1));
  }
}

/**
 * One transaction; false when others held the table for too long.
 * @param {import('pg').Client} client
 * @param {() => Promise<unknown>} work
 */
async function unlessBusy(client, work) {
  await client.query('BEGIN');
  try {
    await work();
    await client.query('COMMIT');
    return true;
  } catch (error) {
    await client.query('ROLLBACK');
    if (errorCode(error) === LOCK_NOT_AVAILABLE) return false;
    throw error;
  }
}
