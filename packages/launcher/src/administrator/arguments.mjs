import { parseArgs } from 'node:util';
import { toTypablePassword } from '../support/password.mjs';
import { PlainError } from '../support/plain-error.mjs';

const USAGE =
  'npm run create-administrator -- --email YOU@YOUR.EXAMPLE --organisation "YOUR COMPANY" [--name "YOUR NAME"]';
/** As the API asks of every first password. */
const SHORTEST_PASSWORD = 12;

/**
 * @typedef {object} Administrator
 * @property {string} email
 * @property {string} organisation name of an existing organisation, or of one to make
 * @property {string} displayName
 * @property {string} password ADMIN_PASSWORD, or made up; never an argument, which every user of the machine could read
 * @property {boolean} isPasswordMadeUp
 */

/**
 * @param {string[]} args
 * @param {NodeJS.ProcessEnv} env
 * @returns {Administrator}
 * @throws {PlainError}
 */
export function readAdministrator(args, env) {
  const { email = '', organisation = '', name } = parse(args);
  if (!/^[^\s@]+@[^\s@]+$/.test(email) || organisation.trim() === '') {
    throw new PlainError('An administrator needs an e-mail address and an organisation.', USAGE);
  }
  const given = env.ADMIN_PASSWORD || undefined;
  if (given !== undefined && given.length < SHORTEST_PASSWORD) {
    throw new PlainError(
      `ADMIN_PASSWORD has ${given.length} characters; at least ${SHORTEST_PASSWORD} are needed.`,
      'Give a longer one, or none: then one is made up and printed.',
    );
  }
  return {
    email: email.trim().toLowerCase(),
    organisation: organisation.trim(),
    displayName: (name ?? email).trim(),
    password: given ?? toTypablePassword(),
    isPasswordMadeUp: given === undefined,
  };
}

/** @param {string[]} args */
function parse(args) {
  const text = /** @type {const} */ ({ type: 'string' });
  try {
    return parseArgs({ args, options: { email: text, organisation: text, name: text } }).values;
  } catch (error) {
    throw new PlainError(error instanceof Error ? error.message : String(error), USAGE, error);
  }
}
