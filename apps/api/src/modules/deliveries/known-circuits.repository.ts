import { columns, type SqlTransaction } from '../../platform/sql/sql-transaction.js';

export interface KnownCircuit {
  sourceId: string;
  reference: string;
  customerId: string;
  machineId: string;
  circuitId: string | null;
  circuitName: string | null;
}

/** The circuits of the machines that are meant; a machine without circuits comes once, without one. */
export async function listKnownCircuits(
  sql: SqlTransaction,
  organisationId: string,
  references: readonly { sourceId: string; reference: string }[],
): Promise<KnownCircuit[]> {
  return sql.rows<KnownCircuit>(
    `SELECT m.source_id AS "sourceId", m.external_reference AS reference, m.customer_id AS "customerId",
            m.machine_id AS "machineId", c.id AS "circuitId", c.name AS "circuitName"
     FROM unnest($2::uuid[], $3::text[]) AS r (source_id, reference)
     JOIN source_machines m ON m.organisation_id = $1::uuid AND m.source_id = r.source_id AND m.external_reference = r.reference
     LEFT JOIN circuits c ON c.organisation_id = m.organisation_id AND c.machine_id = m.machine_id AND c.customer_id = m.customer_id
     ORDER BY c.id`,
    [
      organisationId,
      ...columns(
        references,
        (one) => one.sourceId,
        (one) => one.reference,
      ),
    ],
  );
}
