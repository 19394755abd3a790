import { APP_ROLE, BACKUP_ROLE, GATE_ROLE, OWNER_ROLE } from '../database/role-attributes.mjs';
import { parseUrlParts } from '../database/connection.mjs';
import { DATABASE } from '../roles.mjs';
import { PlainError } from '../support/plain-error.mjs';

/**
 * The addresses that a container set-up is given.
 * @param {NodeJS.ProcessEnv} env
 * @returns {{ superuserUrl: string, urls: import('../roles.mjs').LoginUrls }}
 * @throws {PlainError} when one is missing, has no password, or names another login
 */
export function readSetupUrls(env) {
  return {
    superuserUrl: readUrl(env, 'SUPERUSER_URL'),
    urls: {
      ownerUrl: readLoginUrl(env, 'DATABASE_OWNER_URL', OWNER_ROLE),
      appUrl: readLoginUrl(env, 'DATABASE_URL', APP_ROLE),
      gateUrl: readLoginUrl(env, 'DATABASE_GATE_URL', GATE_ROLE),
      backupUrl: readLoginUrl(env, 'DATABASE_BACKUP_URL', BACKUP_ROLE),
    },
  };
}

/**
 * @param {NodeJS.ProcessEnv} env
 * @param {string} name
 * @param {string} role
 */
function readLoginUrl(env, name, role) {
  const url = readUrl(env, name);
  const { user, database } = parseUrlParts(url);
  if (user === role && database === DATABASE) return url;
  throw new PlainError(
    `${name} must log in as ${role} to the database ${DATABASE}.`,
    'Put it back as it is in docker-compose.yml.',
  );
}

/**
 * @param {NodeJS.ProcessEnv} env
 * @param {string} name
 */
function readUrl(env, name) {
  const url = env[name] ?? '';
  if (!URL.canParse(url))
    throw new PlainError(`${name} is missing or no address.`, 'Set it as docker-compose.yml does.');
  if (parseUrlParts(url).password !== '') return url;
  throw new PlainError(
    `${name} has no password.`,
    'Set the passwords that docker-compose.yml names, in the environment or a file .env.',
  );
}
