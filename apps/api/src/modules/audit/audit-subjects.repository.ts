import { Injectable } from '@nestjs/common';
import { Db } from '../../platform/db/index.js';

export interface AuditSubjectRow {
  id: string;
  name: string;
  machine_id: string | null;
  machine_name: string | null;
}

/** What records of the trail, and those that it mentions, are called today, and the machine that each belongs to. */
@Injectable()
export class AuditSubjectsRepository {
  constructor(private readonly db: Db) {}

  find(ids: readonly string[]): Promise<AuditSubjectRow[]> {
    const { organisationId } = this.db.actor;
    return this.db.tx.$queryRaw<AuditSubjectRow[]>`
      WITH named AS (
        SELECT organisation_id, id, name, id AS machine_id FROM machines
        UNION ALL SELECT organisation_id, id, name, NULL FROM customers
        UNION ALL SELECT organisation_id, id, name, NULL FROM sites
        UNION ALL SELECT organisation_id, id, name, NULL FROM component_types
        UNION ALL SELECT organisation_id, id, name, NULL FROM fixtures
        UNION ALL SELECT organisation_id, id, number || ' ' || name, NULL FROM operations
        UNION ALL SELECT organisation_id, id, name, machine_id FROM power_units
        UNION ALL SELECT organisation_id, id, name, machine_id FROM circuits
        UNION ALL
        SELECT part.organisation_id, part.id, part.designation || ' ' || type.name, part.machine_id
        FROM installed_components part
        JOIN component_types type ON type.organisation_id = part.organisation_id AND type.id = part.component_type_id
        UNION ALL
        SELECT fitting.organisation_id, fitting.id, fixture.name || ', ' || station.name, station.machine_id
        FROM fixture_fittings fitting
        JOIN fixtures fixture ON fixture.organisation_id = fitting.organisation_id AND fixture.id = fitting.fixture_id
        JOIN stations station ON station.organisation_id = fitting.organisation_id AND station.id = fitting.station_id
        UNION ALL
        SELECT target.organisation_id, target.id, circuit.name, circuit.machine_id
        FROM target_settings target
        JOIN circuits circuit ON circuit.organisation_id = target.organisation_id AND circuit.id = target.circuit_id
        UNION ALL
        SELECT setup.organisation_id, setup.id, circuit.name, circuit.machine_id
        FROM setup_records setup
        JOIN circuits circuit ON circuit.organisation_id = setup.organisation_id AND circuit.id = setup.circuit_id
        UNION ALL
        SELECT sizing.organisation_id, sizing.id, circuit.name, circuit.machine_id
        FROM sizing_records sizing
        JOIN circuits circuit ON circuit.organisation_id = sizing.organisation_id AND circuit.id = sizing.circuit_id
        UNION ALL
        SELECT rule.organisation_id, rule.id, COALESCE(circuit.name, organisation.name), circuit.machine_id
        FROM alarm_rules rule
        JOIN organisations organisation ON organisation.id = rule.organisation_id
        LEFT JOIN circuits circuit ON circuit.organisation_id = rule.organisation_id AND circuit.id = rule.circuit_id
        UNION ALL
        SELECT finding.organisation_id, finding.id, source.name, NULL
        FROM findings finding
        JOIN sources source ON source.organisation_id = finding.organisation_id AND source.id = finding.source_id
        UNION ALL SELECT organisation_id, id, name, machine_id FROM stations
        UNION ALL SELECT organisation_id, id, code, machine_id FROM m_codes
        UNION ALL SELECT organisation_id, id, name, machine_id FROM signals
        UNION ALL
        SELECT wire.organisation_id, wire.id, wire.number, signal.machine_id
        FROM wires wire
        JOIN signals signal ON signal.organisation_id = wire.organisation_id AND signal.id = wire.signal_id
        UNION ALL
        SELECT event.organisation_id, event.id, machine.name, event.machine_id
        FROM service_events event
        JOIN machines machine ON machine.organisation_id = event.organisation_id AND machine.id = event.machine_id
        UNION ALL SELECT organisation_id, id, title, machine_id FROM issues
        UNION ALL SELECT organisation_id, id, name, NULL FROM sources
        UNION ALL SELECT organisation_id, id, name, NULL FROM api_keys
        UNION ALL SELECT organisation_id, id, display_name, NULL FROM memberships
        UNION ALL SELECT organisation_id, id, display_name, NULL FROM invitations
        UNION ALL SELECT organisation_id, id, name, NULL FROM identity_providers
        UNION ALL SELECT id, id, name, NULL FROM organisations
        UNION ALL SELECT organisation_id, id, file_name, NULL FROM imports
        UNION ALL SELECT organisation_id, id, kind, NULL FROM jobs
      )
      SELECT named.id, named.name, named.machine_id, machine.name AS machine_name
      FROM named
      LEFT JOIN machines machine ON machine.organisation_id = named.organisation_id AND machine.id = named.machine_id
      WHERE named.organisation_id = ${organisationId}::uuid AND named.id = ANY(${[...ids]}::uuid[])`;
  }
}
