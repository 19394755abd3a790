/**
 * Everybody may make large objects in a PostgreSQL database unless it is taken from them, and what is in one is under no policy. The
 * product uses none. Only a superuser can take it away, since the functions are PostgreSQL's own.
 * @param {import('pg').Client} client connected to the database
 * @returns {Promise<string | null>} the statement; null when it has been run
 */
export async function toLargeObjectRevoke(client) {
  const { rows } = await client.query(
    `SELECT string_agg(oid::regprocedure::text, ', ' ORDER BY oid::regprocedure::text) AS functions FROM pg_proc
     WHERE pronamespace = 'pg_catalog'::regnamespace AND proname ~ '^(lo_.*|loread|lowrite)$'
       AND has_function_privilege('public', oid, 'EXECUTE')`,
  );
  return rows[0].functions === null ? null : `REVOKE EXECUTE ON FUNCTION ${rows[0].functions} FROM PUBLIC`;
}
