import type { InterlockMachine, InterlockValve } from '@repo/calc';
import { Injectable } from '@nestjs/common';
import { Db } from '../../platform/db/index.js';

export interface ControlCircuitFacts {
  id: string;
  name: string;
  machineId: string;
  stationId: string;
  valveBehaviour: InterlockValve | null;
  isCheckHeld: boolean | null;
  /** of the directional valve fitted; null: none fitted, or not known */
  coilPowerW: number | null;
  hasValve: boolean;
}
export interface SignalFacts {
  id: string;
  circuitId: string;
  mCodeId: string | null;
  direction: 'output' | 'input';
  name: string;
  actsOn: string;
  suppression: string | null;
  suppressionVoltageV: number | null;
  isPolarityRight: boolean | null;
  isHeldOn: boolean | null;
}
export interface WireFacts {
  id: string;
  signalId: string;
  number: string;
  crossSectionM2: number | null;
  lengthM: number | null;
  insulationVoltageV: number | null;
  protectionA: number | null;
  conductorLimitA: number | null;
  highestInCableV: number | null;
}
export interface MCodeFacts {
  id: string;
  stationId: string | null;
  code: string;
  action: 'clamp' | 'unclamp' | 'other';
  waitsForAnswer: boolean | null;
}
export interface ControlMachineFacts {
  id: string;
  name: string;
  controlVoltageV: number | null;
  supplyRatingW: number | null;
  supplyPeakW: number | null;
  controlLoadW: number | null;
  controlLoadPeakW: number | null;
  supplyReserveRatio: number | null;
  controlTemperatureK: number | null;
  hasSeparateCommons: boolean | null;
  outputRatingV: number | null;
  /** a member that is absent or null: nobody has said */
  behaviour: Partial<{ [K in keyof InterlockMachine]: InterlockMachine[K] | null }>;
}
export interface ControlFacts {
  machines: ControlMachineFacts[];
  /** every circuit of these machines: they may share signals */
  circuits: ControlCircuitFacts[];
  signals: SignalFacts[];
  wires: WireFacts[];
  mCodes: MCodeFacts[];
}

/** Reads what the control of some machines is, as it is now: five queries, however many machines. */
@Injectable()
export class ControlFactsRepository {
  constructor(private readonly db: Db) {}

  async read(machineIds: readonly string[], asOn: Date): Promise<ControlFacts> {
    const { tx, actor } = this.db.current;
    const o = actor.organisationId;
    const machines = await tx.$queryRaw<ControlMachineFacts[]>`
      SELECT id, name, control_voltage_v AS "controlVoltageV", supply_rating_w AS "supplyRatingW",
             supply_peak_w AS "supplyPeakW", control_load_w AS "controlLoadW",
             control_load_peak_w AS "controlLoadPeakW", supply_reserve_ratio AS "supplyReserveRatio",
             control_temperature_k AS "controlTemperatureK", has_separate_commons AS "hasSeparateCommons",
             output_rating_v AS "outputRatingV", control_behaviour AS behaviour
      FROM machines WHERE organisation_id = ${o}::uuid AND id = ANY (${machineIds}::uuid[])`;
    const circuits = await tx.$queryRaw<ControlCircuitFacts[]>`
      SELECT c.id, c.name, c.machine_id AS "machineId", c.station_id AS "stationId",
             c.valve_behaviour AS "valveBehaviour", c.is_check_held AS "isCheckHeld",
             v.figures IS NOT NULL AS "hasValve",
             coalesce(v.own -> 'coilPower' ->> 'si', v.figures -> 'coilPower' ->> 'si')::float8 AS "coilPowerW"
      FROM circuits c
      LEFT JOIN LATERAL (
        SELECT i.figures AS own, t.figures
        FROM installed_components i
        JOIN component_types t ON t.organisation_id = i.organisation_id AND t.id = i.component_type_id
        WHERE i.organisation_id = c.organisation_id AND i.circuit_id = c.id AND t.kind = 'directional-valve'
          AND i.valid_from <= ${asOn} AND (i.valid_to IS NULL OR i.valid_to > ${asOn})
        ORDER BY i.designation, i.id LIMIT 1
      ) v ON true
      WHERE c.organisation_id = ${o}::uuid AND c.machine_id = ANY (${machineIds}::uuid[])
        AND c.created_at <= ${asOn} AND (c.archived_at IS NULL OR c.archived_at > ${asOn})
      ORDER BY c.name, c.id`;
    const signals = await tx.$queryRaw<SignalFacts[]>`
      SELECT id, circuit_id AS "circuitId", m_code_id AS "mCodeId", direction, name, acts_on AS "actsOn", suppression,
             suppression_voltage_v AS "suppressionVoltageV", is_polarity_right AS "isPolarityRight",
             is_held_on AS "isHeldOn"
      FROM signals
      WHERE organisation_id = ${o}::uuid AND machine_id = ANY (${machineIds}::uuid[]) AND circuit_id IS NOT NULL
        AND created_at <= ${asOn} AND (archived_at IS NULL OR archived_at > ${asOn})
      ORDER BY name, id`;
    const wires = await tx.$queryRaw<WireFacts[]>`
      SELECT id, signal_id AS "signalId", number, cross_section_m2 AS "crossSectionM2", length_m AS "lengthM",
             insulation_voltage_v AS "insulationVoltageV", protection_a AS "protectionA",
             conductor_limit_a AS "conductorLimitA", highest_in_cable_v AS "highestInCableV"
      FROM wires
      WHERE organisation_id = ${o}::uuid AND signal_id = ANY (${signals.map((signal) => signal.id)}::uuid[])
        AND created_at <= ${asOn} AND (archived_at IS NULL OR archived_at > ${asOn})
      ORDER BY number, id`;
    const mCodes = await tx.$queryRaw<MCodeFacts[]>`
      SELECT id, station_id AS "stationId", code, action, waits_for_answer AS "waitsForAnswer"
      FROM m_codes
      WHERE organisation_id = ${o}::uuid AND machine_id = ANY (${machineIds}::uuid[])
        AND created_at <= ${asOn} AND (archived_at IS NULL OR archived_at > ${asOn})
      ORDER BY code, id`;
    return { machines, circuits, signals, wires, mCodes };
  }
}
