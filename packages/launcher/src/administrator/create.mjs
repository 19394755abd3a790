import { hash } from '@node-rs/argon2';
import { uuidv7 } from 'uuidv7';
import { withConnection } from '../database/connection.mjs';
import { PlainError } from '../support/plain-error.mjs';

/** Argon2id with 19 MiB and two passes (OWASP password storage cheat sheet), as the API hashes. */
const HASHING = { memoryCost: 19_456, timeCost: 2, parallelism: 1 };

/**
 * Makes an organisation, unless there is one of that name, and a person who administers it.
 * @param {object} input
 * @param {string} input.ownerUrl
 * @param {string} input.email
 * @param {string} input.organisation
 * @param {string} input.displayName
 * @param {string} input.password
 * @throws {PlainError} when the e-mail address is taken
 */
export async function createAdministrator({ ownerUrl, email, organisation, displayName, password }) {
  const passwordHash = await hash(password, HASHING);
  await withConnection(ownerUrl, async (client) => {
    await client.query('BEGIN');
    try {
      await assertAddressIsFree(client, email);
      const organisationId = await getOrCreateOrganisation(client, organisation);
      const userId = uuidv7();
      await client.query('INSERT INTO users (id, email, display_name, password_hash) VALUES ($1, $2, $3, $4)', [
        userId,
        email,
        displayName,
        passwordHash,
      ]);
      await client.query(
        `INSERT INTO memberships (organisation_id, id, user_id, role, display_name) VALUES ($1, $2, $3, 'administrator', $4)`,
        [organisationId, uuidv7(), userId, displayName],
      );
      await client.query('COMMIT');
    } catch (error) {
      await client.query('ROLLBACK');
      throw error;
    }
  });
}

/**
 * An address may stand for several accounts; the first administrator's is to be no puzzle.
 * @param {import('pg').Client} client
 * @param {string} email
 */
async function assertAddressIsFree(client, email) {
  const { rowCount } = await client.query('SELECT 1 FROM users WHERE lower(email) = lower($1)', [email]);
  if (rowCount === 0) return;
  throw new PlainError(`There is an account with the e-mail address ${email} already.`, 'Use another address.');
}

/**
 * @param {import('pg').Client} client
 * @param {string} name
 * @returns {Promise<string>}
 */
async function getOrCreateOrganisation(client, name) {
  const { rows } = await client.query('SELECT id FROM organisations WHERE name = $1 ORDER BY created_at LIMIT 1', [
    name,
  ]);
  if (rows[0] !== undefined) return rows[0].id;
  // Built by then; at the start of the launcher nothing may be.
  const { USUAL_MARGINS } = await import('@repo/calc/checks');
  const id = uuidv7();
  await client.query('INSERT INTO organisations (id, name, margins_asked) VALUES ($1, $2, $3)', [
    id,
    name,
    JSON.stringify(USUAL_MARGINS),
  ]);
  return id;
}
