import { CALCULATION_VERSION } from '@repo/calc';
import { withConnection } from '@repo/launcher/connection';

/** A standing as the application writes it, for rows that stand in for a large fleet. */
const SUMMARY = {
  circuitName: 'Station 1',
  machineName: 'VMC',
  customerName: 'Customer',
  siteName: 'Works',
  place: 'Braga',
  marks: {
    requiredPa: 11.8e6,
    resetPointPa: 14.2e6,
    setPointPa: 15e6,
    settingPa: 17.5e6,
    settingHalfWidthPa: 4e5,
    highestPossiblePa: 20.5e6,
    workpieceLimitPa: null,
    weakestRatingPa: 21e6,
  },
  checks: [],
  window: {
    lowPa: 11.8e6,
    highPa: 21e6,
    exists: true,
    settingLowestPa: null,
    settingHighestPa: null,
    resetLowestPa: null,
    resetHighestPa: null,
  },
  fixtureName: 'F-1',
  fixtureSince: null,
  settingsBasis: 'as-left',
  settingsOn: null,
};

/**
 * Fills an organisation with machines of one circuit each, over 200 customers, in bulk and as the superuser.
 * Every hundredth circuit fails, every fiftieth is marginal.
 * @param {{ superuserUrl: string, organisationId: string, machines: number }} input
 */
export async function fillFleet({ superuserUrl, organisationId, machines }) {
  await withConnection(superuserUrl, async (client) => {
    /** @param {string} sql */
    const run = (sql) =>
      client.query(sql.replaceAll(':o', `'${organisationId}'::uuid`).replaceAll(':n', String(machines)));
    // Without the checks of keys, which take most of the time, except where standings are counted as they come.
    await client.query('SET session_replication_role = replica');
    // One id per running number and noun, so that rows find each other without a look-up.
    await run(`CREATE FUNCTION pg_temp.fleet_id(noun text, i bigint) RETURNS uuid LANGUAGE sql IMMUTABLE
               AS $$ SELECT overlay(overlay(md5(noun || i || :o::text) placing '7' from 13) placing '8' from 17)::uuid $$`);
    await run(
      `INSERT INTO customers (organisation_id, id, name) SELECT :o, pg_temp.fleet_id('k', i), 'Customer ' || lpad(i::text, 4, '0') FROM generate_series(0, 199) i`,
    );
    await run(`INSERT INTO sites (organisation_id, customer_id, id, name, place, time_zone)
               SELECT :o, pg_temp.fleet_id('k', i), pg_temp.fleet_id('s', i), 'Works', 'Braga', 'Europe/Lisbon' FROM generate_series(0, 199) i`);
    await run(`INSERT INTO machines (organisation_id, customer_id, id, site_id, name, form, way_in)
               SELECT :o, pg_temp.fleet_id('k', i % 200), pg_temp.fleet_id('m', i), pg_temp.fleet_id('s', i % 200), 'VMC-' || lpad(i::text, 6, '0'), 'single-station', 'direct'
               FROM generate_series(1, :n) i`);
    await run(`INSERT INTO stations (organisation_id, customer_id, id, machine_id, name, position)
               SELECT :o, pg_temp.fleet_id('k', i % 200), pg_temp.fleet_id('t', i), pg_temp.fleet_id('m', i), 'Station 1', 0 FROM generate_series(1, :n) i`);
    await run(`INSERT INTO power_units (organisation_id, customer_id, id, machine_id, name, drive)
               SELECT :o, pg_temp.fleet_id('k', i % 200), pg_temp.fleet_id('p', i), pg_temp.fleet_id('m', i), 'Power unit 1', 'air' FROM generate_series(1, :n) i`);
    await run(`INSERT INTO circuits (organisation_id, customer_id, id, machine_id, power_unit_id, station_id, name)
               SELECT :o, pg_temp.fleet_id('k', i % 200), pg_temp.fleet_id('c', i), pg_temp.fleet_id('m', i), pg_temp.fleet_id('p', i), pg_temp.fleet_id('t', i), 'Station 1'
               FROM generate_series(1, :n) i`);
    await client.query('SET session_replication_role = DEFAULT');
    await client.query(
      `INSERT INTO circuit_standings (organisation_id, customer_id, circuit_id, machine_id, site_id, status, status_rank, ratio_rank, sort_key, reason,
                                      calculation_version, summary)
       SELECT $1::uuid, pg_temp.fleet_id('k', i % 200), pg_temp.fleet_id('c', i), pg_temp.fleet_id('m', i), pg_temp.fleet_id('s', i % 200), s.status, s.rank, -(i % 97) / 97.0,
              'customer ' || lpad((i % 200)::text, 4, '0') || ' vmc-' || lpad(i::text, 6, '0'), 'within', $4, $3::jsonb
       FROM generate_series(1, $2::int) i
       CROSS JOIN LATERAL (SELECT CASE WHEN i % 100 = 0 THEN 'fails' WHEN i % 50 = 1 THEN 'marginal' ELSE 'holds' END AS status,
                                  CASE WHEN i % 100 = 0 THEN 0 WHEN i % 50 = 1 THEN 1 ELSE 3 END AS rank) s`,
      [organisationId, machines, JSON.stringify(SUMMARY), CALCULATION_VERSION],
    );
    await client.query('SET session_replication_role = replica');
    await run(`INSERT INTO circuit_dependencies (organisation_id, customer_id, circuit_id, entity, entity_id)
               SELECT :o, pg_temp.fleet_id('k', i % 200), pg_temp.fleet_id('c', i), pair.entity, pair.id
               FROM generate_series(1, :n) i CROSS JOIN LATERAL (VALUES
                 ('margins-asked', :o), ('customer', pg_temp.fleet_id('k', i % 200)), ('site', pg_temp.fleet_id('s', i % 200)),
                 ('machine', pg_temp.fleet_id('m', i)), ('circuits-of-machine', pg_temp.fleet_id('m', i)),
                 ('control-of-machine', pg_temp.fleet_id('m', i)), ('power-unit', pg_temp.fleet_id('p', i)),
                 ('circuits-of-power-unit', pg_temp.fleet_id('p', i)), ('components-of-power-unit', pg_temp.fleet_id('p', i)),
                 ('circuit', pg_temp.fleet_id('c', i)), ('components-of-circuit', pg_temp.fleet_id('c', i)),
                 ('fitting-of-station', pg_temp.fleet_id('t', i)), ('target-settings-of-circuit', pg_temp.fleet_id('c', i)),
                 ('setup-records-of-circuit', pg_temp.fleet_id('c', i))) AS pair (entity, id)`);
    await run(`INSERT INTO search_tokens (organisation_id, customer_id, token, circuit_id, kind)
               SELECT :o, pg_temp.fleet_id('k', i % 200), 'vmc-' || lpad(i::text, 6, '0'), pg_temp.fleet_id('c', i), 'machine' FROM generate_series(1, :n) i`);
    await client.query('SET session_replication_role = DEFAULT');
    await client.query('VACUUM ANALYZE');
  });
}

/**
 * Shared buffers that one call costs, every statement of the requests counted by the server itself (pg_stat_statements),
 * the audit sealer's own left out; and how long it takes, in the middle.
 * @param {{ superuserUrl: string, calls: number }} input
 * @param {() => Promise<unknown>} call
 */
export async function buffersPerCall({ superuserUrl, calls }, call) {
  return withConnection(superuserUrl, async (client) => {
    await client.query('CREATE EXTENSION IF NOT EXISTS pg_stat_statements');
    for (let warm = 0; warm < 5; warm += 1) await call();
    await client.query('SELECT pg_stat_statements_reset()');
    /** @type {number[]} */
    const took = [];
    for (let round = 0; round < calls; round += 1) {
      const began = performance.now();
      await call();
      took.push(performance.now() - began);
    }
    const milliseconds = took.sort((a, b) => a - b)[Math.floor(calls / 2)] ?? NaN;
    const { rows } = await client.query(`
      SELECT sum(shared_blks_hit + shared_blks_read) AS blocks FROM pg_stat_statements
      WHERE dbid = (SELECT oid FROM pg_database WHERE datname = current_database())
        AND query NOT LIKE '%audit_%' AND query NOT LIKE '%pg_stat_statements%'`);
    return { buffers: Number(rows[0].blocks) / calls, milliseconds };
  });
}
