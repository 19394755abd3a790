import { randomUUID } from 'node:crypto';
import { hash } from '@node-rs/argon2';
import { withConnection } from '@repo/launcher/connection';

const BENCH_PASSWORD = 'a password for the benchmark';
const MARGINS = {
  'holds-workpiece': 0.03,
  'no-nuisance-stop': 0.02,
  'setting-within-rating': 0.03,
  'highest-within-rating': 0,
  'workpiece-limit': 0.02,
};

/** @typedef {{ organisationId: string, email: string, role: string, customerId: string | null, passwordHash: string }} Member */

/**
 * @param {string} superuserUrl
 * @param {Member} member
 */
async function addMember(superuserUrl, { organisationId, email, role, customerId, passwordHash }) {
  const [userId, membershipId] = [randomUUID(), randomUUID()];
  await withConnection(superuserUrl, async (client) => {
    await client.query('INSERT INTO users (id, email, display_name, password_hash) VALUES ($1, $2, $3, $4)', [
      userId,
      email,
      role,
      passwordHash,
    ]);
    await client.query(
      'INSERT INTO memberships (organisation_id, id, user_id, role, customer_id, display_name) VALUES ($1, $2, $3, $4, $5, $4)',
      [organisationId, membershipId, userId, role, customerId],
    );
  });
}

/**
 * An organisation with one person, who leads it; and later one of a customer of it.
 * @param {string} superuserUrl
 */
export async function makeOrganisation(superuserUrl) {
  const organisationId = randomUUID();
  const email = 'lead@bench.example';
  const passwordHash = await hash(BENCH_PASSWORD);
  await withConnection(superuserUrl, (client) =>
    client.query('INSERT INTO organisations (id, name, margins_asked) VALUES ($1, $2, $3)', [
      organisationId,
      'Bench',
      JSON.stringify(MARGINS),
    ]),
  );
  await addMember(superuserUrl, { organisationId, email, role: 'lead', customerId: null, passwordHash });
  /** Adds somebody of the first customer; gives the address. */
  const addViewer = async () => {
    const { rows } = await withConnection(superuserUrl, (client) =>
      client.query('SELECT id FROM customers WHERE organisation_id = $1 ORDER BY name LIMIT 1', [organisationId]),
    );
    const viewer = 'viewer@bench.example';
    const customerId = String(rows[0]?.id);
    await addMember(superuserUrl, { organisationId, email: viewer, role: 'viewer', customerId, passwordHash });
    return viewer;
  };
  return { organisationId, email, addViewer };
}

/**
 * Signs one of them in where the product answers; gives the cookie.
 * @param {string} origin
 * @param {string} email
 */
export async function signInAt(origin, email) {
  const response = await fetch(`${origin}/api/v1/sessions`, {
    method: 'POST',
    headers: { 'content-type': 'application/json' },
    body: JSON.stringify({ email, password: BENCH_PASSWORD }),
  });
  if (!response.ok) throw new Error(`sign-in: ${response.status} ${await response.text()}`);
  return response.headers.getSetCookie()[0]?.split(';', 1)[0] ?? '';
}
