import { Injectable } from '@nestjs/common';
import { Db, Prisma } from '../../platform/db/index.js';

/** One thing that was done: what a person wrote of it, or the components that it was done with. */
export interface DoneRow {
  id: string;
  customer_id: string;
  machine_id: string;
  circuit_id: string | null;
  circuit_name: string | null;
  kind: string;
  occurred_at: Date;
  text: string;
  person_name: string;
  recorded_at: Date;
  components: unknown;
}

/**
 * What was done to a machine: what people wrote, and what the components' own records say was fitted, exchanged and taken out. Components
 * that changed at one moment at one place are one thing that was done; one that was fitted the moment another of its designation went
 * out was exchanged for it.
 */
@Injectable()
export class DoneRowsRepository {
  constructor(private readonly db: Db) {}

  list(machineId: string, after: readonly (string | number)[] | null, limit: number): Promise<DoneRow[]> {
    const { organisationId, customerId } = this.db.actor;
    const mine = Prisma.sql`organisation_id = ${organisationId}::uuid AND machine_id = ${machineId}::uuid`;
    // A customer's people do not read who among the integrator's wrote a component down.
    const isCustomer = customerId !== null;
    const fitter = isCustomer
      ? Prisma.sql`''`
      : Prisma.sql`COALESCE((SELECT m.display_name FROM memberships m
          WHERE m.organisation_id = part.organisation_id AND m.id = part.recorded_by), '')`;
    const remover = isCustomer
      ? Prisma.sql`''`
      : Prisma.sql`COALESCE((SELECT a.actor_name FROM audit_entries a
          WHERE a.organisation_id = part.organisation_id AND a.entity = 'installed-component' AND a.entity_id = part.id
            AND a.action = 'remove' ORDER BY a.at DESC LIMIT 1), '')`;
    const page =
      after === null
        ? Prisma.sql`TRUE`
        : Prisma.sql`(done.occurred_at, done.id) < (${String(after[0])}::timestamptz, ${String(after[1])}::uuid)`;
    return this.db.tx.$queryRaw<DoneRow[]>`
      WITH parts AS (
        SELECT p.*, t.name AS type_name FROM installed_components p
        JOIN component_types t ON t.organisation_id = p.organisation_id AND t.id = p.component_type_id
        WHERE p.organisation_id = ${organisationId}::uuid AND p.machine_id = ${machineId}::uuid
      ), changes AS (
        SELECT part.id, part.customer_id, part.circuit_id, part.power_unit_id, part.designation, part.reason AS text,
          CASE WHEN former.id IS NULL THEN 'component-fitted' ELSE 'component-exchanged' END AS kind,
          part.valid_from AS occurred_at, part.recorded_at, ${fitter} AS person_name,
          jsonb_build_object('id', part.id, 'designation', part.designation, 'componentTypeName', part.type_name,
            'serial', part.serial, 'lot', part.lot,
            'replaced', CASE WHEN former.id IS NOT NULL THEN jsonb_build_object(
              'componentTypeName', former.type_name, 'serial', former.serial, 'lot', former.lot) END) AS component
        FROM parts part
        LEFT JOIN LATERAL (
          SELECT f.id, f.type_name, f.serial, f.lot FROM parts f
          WHERE f.designation = part.designation AND f.valid_to = part.valid_from AND f.id <> part.id LIMIT 1
        ) former ON TRUE
        UNION ALL
        SELECT part.id, part.customer_id, part.circuit_id, part.power_unit_id, part.designation, part.removed_reason,
          'component-removed', part.valid_to, part.recorded_at, ${remover},
          jsonb_build_object('id', part.id, 'designation', part.designation, 'componentTypeName', part.type_name,
            'serial', part.serial, 'lot', part.lot, 'replaced', NULL)
        FROM parts part
        WHERE part.valid_to IS NOT NULL AND NOT EXISTS (
          SELECT 1 FROM parts n WHERE n.designation = part.designation AND n.valid_from = part.valid_to AND n.id <> part.id)
      ), done AS (
        SELECT id, customer_id, circuit_id, kind, occurred_at, text, person_name, recorded_at, '[]'::jsonb AS components
        FROM service_events WHERE ${mine}
        UNION ALL
        SELECT (array_agg(id ORDER BY designation, id))[1], customer_id, circuit_id, kind, occurred_at,
          string_agg(DISTINCT NULLIF(text, ''), '; '), string_agg(DISTINCT NULLIF(person_name, ''), ', '),
          max(recorded_at), jsonb_agg(component ORDER BY designation, id)
        FROM changes GROUP BY customer_id, circuit_id, power_unit_id, kind, occurred_at
      )
      SELECT done.id, done.customer_id, ${machineId}::uuid AS machine_id, done.circuit_id, circuit.name AS circuit_name, done.kind,
        done.occurred_at, COALESCE(done.text, '') AS text, COALESCE(done.person_name, '') AS person_name, done.recorded_at, done.components
      FROM done
      LEFT JOIN circuits circuit ON circuit.organisation_id = ${organisationId}::uuid AND circuit.id = done.circuit_id
      WHERE ${page}
      ORDER BY done.occurred_at DESC, done.id DESC
      LIMIT ${limit + 1}`;
  }
}
