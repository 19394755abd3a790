import { loadDemo } from '@repo/launcher/demo';
import { findFreePort } from '@repo/launcher/ports';
import { withConnection } from '@repo/launcher/connection';
import { startApiProcess, startDatabase } from '../bench/ingest-world.mjs';
import { fuzz } from '../fuzz/fuzz.mjs';

const PASSWORD = 'a long drill password 1';
/** Records of each kind whose ids the requests name. */
const TABLES = [
  'customers',
  'sites',
  'machines',
  'power_units',
  'circuits',
  'component_types',
  'fixtures',
  'issues',
  'sources',
];
const A_KIND = 5;

/** @param {string} base @param {string} email */
async function signIn(base, email) {
  const response = await fetch(`${base}/api/v1/sessions`, {
    method: 'POST',
    headers: { 'content-type': 'application/json' },
    body: JSON.stringify({ email, password: PASSWORD }),
  });
  if (response.status !== 201) throw new Error(`${email} cannot sign in: ${response.status}`);
  return response.headers
    .getSetCookie()
    .map((cookie) => cookie.split(';', 1)[0])
    .join('; ');
}

/**
 * Requests made from the API's own description, against the demonstration in a process of its own: none may be answered with a fault,
 * and the process must be the same at the end.
 * @param {{ requests: number, seed?: number, tell?: (text: string) => void }} options
 */
export async function drillFuzz({ requests, seed = 1, tell = () => undefined }) {
  const db = await startDatabase();
  const port = await findFreePort();
  const base = `http://127.0.0.1:${port}`;
  const { logins } = await loadDemo({ ...db.urls, password: PASSWORD });
  const api = await startApiProcess(db.urls, port, { RATE_LIMIT: '100000000' });
  try {
    /** @type {Record<string, string>} */
    const cookies = {};
    for (const { email } of logins) cookies[email] = await signIn(base, email);
    const ids = await withConnection(db.superuserUrl, async (client) => {
      /** @type {string[]} */
      const found = [];
      for (const table of TABLES) {
        const { rows } = await client.query(`SELECT id FROM ${table} ORDER BY id LIMIT ${A_KIND}`);
        found.push(...rows.map(({ id }) => id));
      }
      return found;
    });
    const { asked, statuses, faults } = await fuzz({ port, cookies, ids }, { requests, seed });
    tell(`${asked} requests with seed ${seed}: ${JSON.stringify(statuses)}`);
    for (const fault of [...new Set(faults)].slice(0, 20)) tell(`  ${fault}`);
    if (faults.length > 0) throw new Error(`${faults.length} of ${asked} requests were answered as they must not be`);
    if (api.child.exitCode !== null) throw new Error('the API ended meanwhile');
    return { asked, statuses };
  } finally {
    await api.kill('SIGKILL');
    await db.stop();
  }
}
