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
 * @returns {string}
 */
export function toAnnouncement({ url, demo, hasOrganisation, notes }) {
  const lines = [`ready ${url}`, ''];
  if (demo !== null) lines.push(...toLoginTable(demo), '');
  if (!hasOrganisation) lines.push(...toFirstSteps(), '');
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

/** @returns {string[]} */
function toFirstSteps() {
  return [
    'The database is empty. Make the first administrator, in another terminal:',
    '  npm run create-administrator -- --email YOU@YOUR.EXAMPLE --organisation "YOUR COMPANY"',
  ];
}
