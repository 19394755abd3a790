/**
 * The database roles. `org_staff` and `org_customer` are what a request becomes for its transaction. The app login
 * has no grants of its own and inherits none, so a query outside such a transaction sees no row at all.
 */
export const OWNER_ROLE = 'kedge_owner';
export const APP_ROLE = 'kedge_app';
export const GATE_ROLE = 'kedge_gate';
export const BACKUP_ROLE = 'kedge_backup';
export const REQUEST_ROLES = ['org_staff', 'org_customer'];

const PLAIN = 'NOSUPERUSER NOCREATEDB NOCREATEROLE NOREPLICATION';

/**
 * Attributes by role. Only the backup login passes by row security.
 * @type {Map<string, string>}
 */
export const ROLE_ATTRIBUTES = new Map([
  ['org_staff', `NOLOGIN NOINHERIT NOBYPASSRLS ${PLAIN}`],
  ['org_customer', `NOLOGIN NOINHERIT NOBYPASSRLS ${PLAIN}`],
  [OWNER_ROLE, `LOGIN INHERIT NOBYPASSRLS ${PLAIN}`],
  [APP_ROLE, `LOGIN NOINHERIT NOBYPASSRLS ${PLAIN}`],
  [GATE_ROLE, `LOGIN NOINHERIT NOBYPASSRLS ${PLAIN}`],
  [BACKUP_ROLE, `LOGIN INHERIT BYPASSRLS ${PLAIN}`],
]);
