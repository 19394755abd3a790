/** Tables in the order that their references ask for. */
const ORDER = [
  'customers',
  'sites',
  'component_types',
  'component_type_revisions',
  'machines',
  'machine_placements',
  'stations',
  'power_units',
  'circuits',
  'm_codes',
  'installed_components',
  'fixtures',
  'fixture_fittings',
  'operations',
  'signals',
  'wires',
  'target_settings',
  'setup_records',
  'service_events',
  'issues',
  'alarm_counts',
  'number_counters',
];

/** Columns as PostgreSQL wants them from JSON: dates as text, what is undefined left out. */
const plain = (row) => JSON.parse(JSON.stringify(row));

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

export async function writeRows(client, organisationId, rows) {
  for (const table of ORDER) await insertRows(client, organisationId, table, rows[table]);
}

/** One transaction in the name of a role of the organisation. */
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

export const emptyRows = () => Object.fromEntries(ORDER.map((table) => [table, []]));
