import { Logger, runMigrations } from 'graphile-worker';
import pg from 'pg';
import { BACKUP_ROLE, GATE_ROLE } from './database/role-attributes.mjs';

const SCHEMA = 'graphile_worker';
const TABLES = ['_private_jobs', '_private_job_queues', '_private_tasks', '_private_known_crontabs'];

/**
 * Installs or brings up to date the tables of the job queue, and lets the gate's login claim jobs from it. The owner does this:
 * no login of a running service may change a schema. Requests reach the queue through a trigger alone, which enqueues the
 * id of the job row that they wrote. The backup's login reads what waits in it. Safe to run at every start.
 * @param {object} input
 * @param {string} input.ownerUrl login that owns the schema
 */
export async function installQueue({ ownerUrl }) {
  const pool = new pg.Pool({ connectionString: ownerUrl, max: 2 });
  pool.on('error', () => undefined);
  pool.on('connect', (client) => client.on('error', () => undefined));
  try {
    await runMigrations({
      pgPool: pool,
      schema: SCHEMA,
      // What goes wrong is thrown; what went well is not worth a line.
      logger: new Logger(() => () => undefined),
    });
    await pool.query(`
      REVOKE ALL ON SCHEMA ${SCHEMA} FROM PUBLIC;
      REVOKE ALL ON ALL FUNCTIONS IN SCHEMA ${SCHEMA} FROM PUBLIC;
      GRANT USAGE ON SCHEMA ${SCHEMA} TO ${GATE_ROLE};
      GRANT SELECT ON ${SCHEMA}.migrations TO ${GATE_ROLE};
      GRANT SELECT, INSERT, UPDATE, DELETE ON ${TABLES.map((table) => `${SCHEMA}.${table}`).join(', ')} TO ${GATE_ROLE};
      GRANT USAGE ON ALL SEQUENCES IN SCHEMA ${SCHEMA} TO ${GATE_ROLE};
      GRANT EXECUTE ON ALL FUNCTIONS IN SCHEMA ${SCHEMA} TO ${GATE_ROLE};
      GRANT USAGE ON SCHEMA ${SCHEMA} TO ${BACKUP_ROLE};
      GRANT SELECT ON ALL TABLES IN SCHEMA ${SCHEMA} TO ${BACKUP_ROLE};
      GRANT SELECT ON ALL SEQUENCES IN SCHEMA ${SCHEMA} TO ${BACKUP_ROLE};`);
    for (const table of TABLES) {
      await pool.query(`
        DO $$ BEGIN
          IF NOT EXISTS (SELECT 1 FROM pg_policies WHERE schemaname = '${SCHEMA}' AND tablename = '${table}') THEN
            CREATE POLICY gate ON ${SCHEMA}.${table} TO ${GATE_ROLE} USING (true) WITH CHECK (true);
          END IF;
        END $$`);
    }
  } finally {
    await pool.end();
  }
}
