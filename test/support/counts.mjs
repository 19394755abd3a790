import { randomUUID } from 'node:crypto';
import { withConnection } from '@repo/launcher/connection';

/**
 * Hourly counts of the first circuits of an organisation, up to now, in the order in which they would have come: every hour, all
 * circuits. Written in bulk as the superuser, without the checks of keys.
 * @param {{ superuserUrl: string, organisationId: string, circuits: number, hours: number }} input
 * @returns {Promise<{ rows: number, machineId: string }>} and a machine among them
 */
export async function fillCounts({ superuserUrl, organisationId, circuits, hours }) {
  return withConnection(superuserUrl, async (client) => {
    const sourceId = randomUUID();
    await client.query(`INSERT INTO sources (organisation_id, id, name) VALUES ($1, $2, 'Filler')`, [
      organisationId,
      sourceId,
    ]);
    await client.query('SET session_replication_role = replica');
    const { rowCount } = await client.query(
      `INSERT INTO alarm_counts (organisation_id, customer_id, circuit_id, source_id, webhook_id, from_at, to_at, revision, clamp_cycles,
                                 alarms, numbers_hash)
       SELECT $1::uuid, c.customer_id, c.id, $2::uuid, 'filler-' || h, h, h + interval '1 hour', 1, 40,
              CASE WHEN (extract(epoch FROM h)::bigint / 3600) % 9 = 0 THEN '{"low-air": 1}'::jsonb ELSE '{}' END, 1
       FROM generate_series(date_trunc('hour', now()) - make_interval(hours => $4::int), date_trunc('hour', now()) - interval '1 hour',
                            interval '1 hour') h
       CROSS JOIN (SELECT customer_id, id FROM circuits WHERE organisation_id = $1::uuid ORDER BY id LIMIT $3::int) c ORDER BY h, c.id`,
      [organisationId, sourceId, circuits, hours],
    );
    await client.query('SET session_replication_role = DEFAULT');
    await client.query('VACUUM ANALYZE');
    const { rows } = await client.query(
      `SELECT c.machine_id FROM circuits c WHERE c.organisation_id = $1 ORDER BY c.id LIMIT 1`,
      [organisationId],
    );
    return { rows: rowCount ?? 0, machineId: String(rows[0].machine_id) };
  });
}
