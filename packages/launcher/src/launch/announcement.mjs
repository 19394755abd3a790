/** @typedef {import('./demo.mjs').Demo} Demo */

const ROLE_HEADING = 'role';
const EMAIL_HEADING = 'e-mail';

/**
 * What the user reads when everything answers.
 * @param {object} input
 * @param {string} input.url
 * @param {Demo | null} input.demo
 * @param {boolean} input.hasOrganisation
 * @param {string[]} input.notes
 * @param {{ dataDir?: string | undefined, hasDatabase: boolean }} input.given in the environment: another command needs it too
 * @returns {string}
 */
export function toAnnouncement({ url, demo, hasOrganisation, notes, given }) {
  const lines = [`ready ${url}`, ''];
  if (demo !== null) lines.push(...toLoginTable(demo), '');
  if (!hasOrganisation) lines.push(...toFirstSteps(given), '');
  if (hasOrganisation && demo === null) lines.push('Sign in with the accounts of this database.', '');
  lines.push(...notes.map((note) => `note: ${note}`), 'Ctrl-C stops it.');
  return lines.join('\n');
}

/**
 * @param {Demo} demo
 * @returns {string[]}
 */
function toLoginTable({ logins, password }) {
  const emailWidth = Math.max(EMAIL_HEADING.length, ...logins.map(({ email }) => email.length));
  const roleWidth = Math.max(ROLE_HEADING.length, ...logins.map(({ role }) => role.length));
  /** @param {{ email: string, role: string, note: string }} row */
  const toLine = ({ email, role, note }) =>
    `  ${email.padEnd(emailWidth)}  ${role.padEnd(roleWidth)}  ${note}`.trimEnd();
  return [
    'Demo organisation, invented. Sign in as:',
    toLine({ email: EMAIL_HEADING, role: ROLE_HEADING, note: '' }),
    ...logins.map(toLine),
    `  password of all: ${password}`,
  ];
}

/**
 * @param {{ dataDir?: string | undefined, hasDatabase: boolean }} given
 * @returns {string[]}
 */
function toFirstSteps({ dataDir, hasDatabase }) {
  const command = 'npm run create-administrator -- --email YOU@YOUR.EXAMPLE --organisation "YOUR COMPANY"';
  return [
    'The database is empty. Make the first administrator, in another terminal:',
    dataDir === undefined ? `  ${command}` : `  DATA_DIR='${dataDir.replaceAll("'", "'\\''")}' ${command}`,
    ...(hasDatabase ? ['  with DATABASE_OWNER_URL and DATABASE_URL set as they are here'] : []),
  ];
}
