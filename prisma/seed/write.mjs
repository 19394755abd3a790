/** @typedef {import('pg').Client} Client */
/** @typedef {import('./rows.types.js').Rows} Rows */

/**
 * No rows yet: the tables in the order that their references ask for.
 * @returns {Rows}
 */
export const emptyRows = () => ({
  customers: [],
  sites: [],
  component_types: [],
  component_type_revisions: [],
  machines: [],
  machine_placements: [],
  stations: [],
  power_units: [],
  circuits: [],
  m_codes: [],
  installed_components: [],
  fixtures: [],
  fixture_fittings: [],
  operations: [],
  signals: [],
  wires: [],
  target_settings: [],
  setup_records: [],
  service_events: [],
  issues: [],
  alarm_counts: [],
  number_counters: [],
});

/**
 * Columns as PostgreSQL wants them from JSON: dates as text, what is undefined left out.
 * @param {object} row
 * @returns {Record<string, unknown>}
 */
const plain = (row) => JSON.parse(JSON.stringify(row));

/**
 * @param {Client} client
 * @param {string} organisationId
 * @param {string} table
 * @param {readonly object[]} rows
 */
export async function insertRows(client, organisationId, table, rows) {
  for (let start = 0; start < rows.length; start += 5000) {
    const chunk = rows.slice(start, start + 5000).map((row) => plain({ organisation_id: organisationId, ...row }));
    const names = [...new Set(chunk.flatMap((row) => Object.keys(row)))];
    const list = names.map((name) => `"${name}"`).join(', ');
    await client.query(
      `INSERT INTO "${table}" (${list}) SELECT ${list} FROM jsonb_populate_recordset(null::"${table}", $1::jsonb)`,
      [JSON.stringify(chunk)],
    );
  }
}

/**
 * Writes tables one after the other.
 * @param {Client} client
 * @param {string} organisationId
 * @param {Rows | import('./rows.types.js').LateRows} tables
 */
export async function writeTables(client, organisationId, tables) {
  for (const [table, rows] of Object.entries(tables)) await insertRows(client, organisationId, table, rows);
}

/**
 * One transaction in the name of a role of the organisation.
 * @template Result
 * @param {Client} client
 * @param {string} organisationId
 * @param {string} role
 * @param {() => Promise<Result>} work
 * @returns {Promise<Result>}
 */
export async function asStaff(client, organisationId, role, work) {
  await client.query('BEGIN');
  try {
    await client.query(
      "SELECT set_config('role', 'org_staff', true), set_config('app.organisation_id', $1, true), set_config('app.role', $2, true)",
      [organisationId, role],
    );
    const result = await work();
    await client.query('COMMIT');
    return result;
  } catch (error) {
    await client.query('ROLLBACK');
    throw error;
  }
}
