import { Injectable } from '@nestjs/common';
import { toMargins, type ComponentKind, type FigureIn, type Margins } from '@repo/contracts';
import { Db, Prisma } from '../../platform/db/index.js';

export interface StoredFigure extends FigureIn {
  si: number;
}
export type StoredFigures = Record<string, StoredFigure>;

export interface CircuitFacts {
  id: string;
  customerId: string;
  name: string;
  machineId: string;
  powerUnitId: string;
  stationId: string;
  siteId: string;
  hasReducingValve: boolean;
  canTrap: boolean | null;
  trappedTemperatureRiseK: number | null;
  trappedNetExpansionPerK: number | null;
  trappedBulkModulusPa: number | null;
  unclampLineCanBlock: boolean | null;
  isDecoupled: boolean | null;
  timeWithoutSupplyS: number | null;
  coolingWithoutSupplyK: number | null;
  isProvedAgain: boolean | null;
  clampTimeAllowedS: number | null;
  unclampTimeAllowedS: number | null;
  valveBehaviour: 'double-detented' | 'double-centred' | 'single-rests-clamped' | 'single-rests-unclamped' | null;
  isCheckHeld: boolean | null;
  needsOpenProof: boolean | null;
  hasOpenProof: boolean | null;
  returnPressurePa: number | null;
  machineName: string;
  controlReactionS: number | null;
  siteName: string;
  place: string;
  customerName: string;
  drive: 'air' | 'electric';
  plantAirLowPa: number | null;
  plantAirHighPa: number | null;
  oilViscosityAt40M2PerS: number | null;
  oilViscosityAt100M2PerS: number | null;
  oilDensityKgPerM3: number | null;
  oilBulkModulusPa: number | null;
  oilAirFraction: number | null;
  coldOilTemperatureK: number | null;
  workingOilTemperatureK: number | null;
}
/** A circuit of a power unit, by name: what shares the supply and the reservoir. */
export interface FedCircuitFacts {
  id: string;
  name: string;
  powerUnitId: string;
  stationId: string;
}
export interface ComponentFacts {
  id: string;
  componentTypeId: string;
  circuitId: string | null;
  powerUnitId: string | null;
  kind: ComponentKind;
  name: string;
  designation: string;
  lineFunctions: string[];
  sensing: 'pump' | 'manifold' | 'clamp-line' | null;
  figures: StoredFigures;
  typeFigures: StoredFigures;
}
export interface FixtureElementFacts {
  id: string;
  kind: 'clamp' | 'support' | 'locator';
  name: string;
  quantity: number;
  form: 'swing-clamp' | 'lever-clamp' | 'cylinder' | null;
  acting: 'single' | 'double' | null;
  ratedPressurePa: number | null;
  leastWorkingPressurePa: number | null;
  ratedForceN: number | null;
  boreM: number | null;
  rodM: number | null;
  strokeM: number | null;
  springForceN: number | null;
  frictionN: number | null;
  viscousFrictionNsPerM: number | null;
  contactStiffnessNPerM: number | null;
  highestFlowM3PerS: number | null;
  armPressurePa: number | null;
  /** clamping and cutting load upon a support: computed with its operations, else as typed */
  highestLoadN: number | null;
}
export interface FixtureFacts {
  stationId: string;
  fixtureId: string;
  name: string;
  ratedPressurePa: number | null;
  elements: FixtureElementFacts[];
  validFrom: Date;
}
export interface OperationFacts {
  id: string;
  fixtureId: string;
  number: number;
  name: string;
  requiredPressurePa: number | null;
  requiredBasis: 'typed' | 'computed';
  workpieceLimitPa: number | null;
  workpieceNotLimiting: boolean;
}
export interface SettingsFacts {
  id: string;
  circuitId: string;
  revision: number;
  at: Date;
  settingPa: number | null;
  settingTolerancePa: number | null;
  setPointPa: number | null;
  resetPointPa: number | null;
  airPressurePa: number | null;
  pumpRestartPa: number | null;
  pumpRestartTolerancePa: number | null;
}
export interface AsLeftFacts extends SettingsFacts {
  decayPa: number | null;
  decayDurationS: number | null;
  gaugeSpanPa: number | null;
  gaugeClass: string;
  lowestWhileSharedPa: number | null;
  clampTimeS: number | null;
  contactTimeS: number | null;
  unclampTimeS: number | null;
  timeToleranceS: number | null;
  oilTemperatureK: number | null;
}
export interface LadderFacts {
  margins: Margins;
  circuits: CircuitFacts[];
  fed: FedCircuitFacts[];
  components: ComponentFacts[];
  fixtures: FixtureFacts[];
  operations: OperationFacts[];
  targets: SettingsFacts[];
  asLeft: AsLeftFacts[];
}

const SETTINGS = Prisma.raw(`
  id, circuit_id AS "circuitId", revision, setting_pa AS "settingPa", setting_tolerance_pa AS "settingTolerancePa",
  set_point_pa AS "setPointPa", reset_point_pa AS "resetPointPa", air_pressure_pa AS "airPressurePa",
  pump_restart_pa AS "pumpRestartPa", pump_restart_tolerance_pa AS "pumpRestartTolerancePa"`);

/** Reads all that the pressure ladders of some circuits stand on, as on one instant: eight queries, however many circuits. */
@Injectable()
export class LadderFactsRepository {
  constructor(private readonly db: Db) {}

  async read(circuitIds: readonly string[], asOn: Date): Promise<LadderFacts> {
    const { tx, actor } = this.db.current;
    const organisationId = actor.organisationId;
    const organisation = await tx.organisation.findUniqueOrThrow({
      where: { id: organisationId },
      select: { marginsAsked: true },
    });
    const circuits = await tx.$queryRaw<CircuitFacts[]>`
      SELECT c.id, c.customer_id AS "customerId", c.name, c.machine_id AS "machineId", c.power_unit_id AS "powerUnitId",
             c.station_id AS "stationId", m.site_id AS "siteId", c.has_reducing_valve AS "hasReducingValve",
             c.can_trap AS "canTrap", c.trapped_temperature_rise_k AS "trappedTemperatureRiseK",
             c.trapped_net_expansion_per_k AS "trappedNetExpansionPerK",
             c.trapped_bulk_modulus_pa AS "trappedBulkModulusPa", c.unclamp_line_can_block AS "unclampLineCanBlock",
             c.is_decoupled AS "isDecoupled", c.time_without_supply_s AS "timeWithoutSupplyS",
             c.cooling_without_supply_k AS "coolingWithoutSupplyK", c.is_proved_again AS "isProvedAgain",
             c.clamp_time_allowed_s AS "clampTimeAllowedS", c.unclamp_time_allowed_s AS "unclampTimeAllowedS",
             c.valve_behaviour AS "valveBehaviour", c.is_check_held AS "isCheckHeld",
             c.needs_open_proof AS "needsOpenProof", c.has_open_proof AS "hasOpenProof",
             c.return_pressure_pa AS "returnPressurePa",
             m.name AS "machineName", m.control_reaction_s AS "controlReactionS", s.name AS "siteName", s.place,
             k.name AS "customerName", p.drive, p.plant_air_low_pa AS "plantAirLowPa", p.plant_air_high_pa AS "plantAirHighPa",
             p.oil_viscosity_at40_m2_per_s AS "oilViscosityAt40M2PerS",
             p.oil_viscosity_at100_m2_per_s AS "oilViscosityAt100M2PerS",
             p.oil_density_kg_per_m3 AS "oilDensityKgPerM3", p.oil_bulk_modulus_pa AS "oilBulkModulusPa",
             p.oil_air_fraction AS "oilAirFraction", p.cold_oil_temperature_k AS "coldOilTemperatureK",
             p.working_oil_temperature_k AS "workingOilTemperatureK"
      FROM circuits c
      JOIN machines m ON m.organisation_id = c.organisation_id AND m.id = c.machine_id
      JOIN sites s ON s.organisation_id = m.organisation_id AND s.id = m.site_id
      JOIN customers k ON k.organisation_id = c.organisation_id AND k.id = c.customer_id
      JOIN power_units p ON p.organisation_id = c.organisation_id AND p.id = c.power_unit_id
      WHERE c.organisation_id = ${organisationId}::uuid AND c.id = ANY (${circuitIds}::uuid[])`;
    const ids = circuits.map((circuit) => circuit.id);
    const powerUnitIds = [...new Set(circuits.map((circuit) => circuit.powerUnitId))];
    const fed = await tx.$queryRaw<FedCircuitFacts[]>`
      SELECT id, name, power_unit_id AS "powerUnitId", station_id AS "stationId" FROM circuits
      WHERE organisation_id = ${organisationId}::uuid AND power_unit_id = ANY (${powerUnitIds}::uuid[])
        AND created_at <= ${asOn} AND (archived_at IS NULL OR archived_at > ${asOn})
      ORDER BY name, id`;
    // The others of a power unit draw on the same reservoir: what moves in them counts, too.
    const fedIds = [...new Set([...ids, ...fed.map((circuit) => circuit.id)])];
    const stationIds = [...new Set([...circuits, ...fed].map((circuit) => circuit.stationId))];
    const components = await tx.$queryRaw<ComponentFacts[]>`
      SELECT i.id, i.component_type_id AS "componentTypeId", i.circuit_id AS "circuitId",
             i.power_unit_id AS "powerUnitId", t.kind, t.name, i.designation, i.line_functions AS "lineFunctions",
             i.sensing, i.figures, t.figures AS "typeFigures"
      FROM installed_components i
      JOIN component_types t ON t.organisation_id = i.organisation_id AND t.id = i.component_type_id
      WHERE i.organisation_id = ${organisationId}::uuid
        AND (i.circuit_id = ANY (${fedIds}::uuid[]) OR i.power_unit_id = ANY (${powerUnitIds}::uuid[]))
        AND i.valid_from <= ${asOn} AND (i.valid_to IS NULL OR i.valid_to > ${asOn})
      ORDER BY i.designation, i.id`;
    const fixtures = await tx.$queryRaw<(Omit<FixtureFacts, 'elements'> & { elements: WireElement[] })[]>`
      SELECT f.station_id AS "stationId", f.fixture_id AS "fixtureId", x.name, x.rated_pressure_pa AS "ratedPressurePa",
             x.elements, f.valid_from AS "validFrom"
      FROM fixture_fittings f
      JOIN fixtures x ON x.organisation_id = f.organisation_id AND x.id = f.fixture_id
      WHERE f.organisation_id = ${organisationId}::uuid AND f.station_id = ANY (${stationIds}::uuid[])
        AND f.valid_from <= ${asOn} AND (f.valid_to IS NULL OR f.valid_to > ${asOn})`;
    const operations = await tx.$queryRaw<OperationFacts[]>`
      SELECT id, fixture_id AS "fixtureId", number, name, required_pressure_pa AS "requiredPressurePa",
             required_basis AS "requiredBasis", workpiece_limit_pa AS "workpieceLimitPa",
             workpiece_not_limiting AS "workpieceNotLimiting"
      FROM operations
      WHERE organisation_id = ${organisationId}::uuid
        AND fixture_id = ANY (${fixtures.map((fixture) => fixture.fixtureId)}::uuid[])
        AND valid_from <= ${asOn} AND (valid_to IS NULL OR valid_to > ${asOn})
      ORDER BY number, id`;
    const targets = await tx.$queryRaw<SettingsFacts[]>`
      SELECT DISTINCT ON (circuit_id) ${SETTINGS}, released_at AS at
      FROM target_settings
      WHERE organisation_id = ${organisationId}::uuid AND circuit_id = ANY (${ids}::uuid[]) AND released_at <= ${asOn}
      ORDER BY circuit_id, revision DESC`;
    const asLeft = await tx.$queryRaw<AsLeftFacts[]>`
      SELECT DISTINCT ON (circuit_id) ${SETTINGS}, measured_at AS at, decay_pa AS "decayPa",
             decay_duration_s AS "decayDurationS", gauge_span_pa AS "gaugeSpanPa", gauge_class AS "gaugeClass",
             lowest_while_shared_pa AS "lowestWhileSharedPa", clamp_time_s AS "clampTimeS",
             contact_time_s AS "contactTimeS", unclamp_time_s AS "unclampTimeS", time_tolerance_s AS "timeToleranceS",
             oil_temperature_k AS "oilTemperatureK"
      FROM setup_records
      WHERE organisation_id = ${organisationId}::uuid AND circuit_id = ANY (${ids}::uuid[]) AND measured_at <= ${asOn}
      ORDER BY circuit_id, measured_at DESC, revision DESC`;
    return {
      margins: toMargins(organisation.marginsAsked as Margins),
      circuits,
      fed,
      components,
      fixtures: fixtures.map((fixture) => ({ ...fixture, elements: fixture.elements.map(toElementFacts) })),
      operations,
      targets,
      asLeft,
    };
  }
}

/** A fixture's element as stored: quantities as typed, with their SI value beside. */
interface WireElement {
  id: string;
  kind: 'clamp' | 'support' | 'locator';
  name: string;
  quantity: number;
  form?: FixtureElementFacts['form'];
  acting?: FixtureElementFacts['acting'];
  si: Partial<ElementFigures>;
}
type ElementFigures = Omit<FixtureElementFacts, 'id' | 'kind' | 'name' | 'quantity' | 'form' | 'acting'>;
/** What elements from before a figure was asked for do not say. */
const UNKNOWN: ElementFigures = {
  ratedPressurePa: null,
  leastWorkingPressurePa: null,
  ratedForceN: null,
  boreM: null,
  rodM: null,
  strokeM: null,
  springForceN: null,
  frictionN: null,
  viscousFrictionNsPerM: null,
  contactStiffnessNPerM: null,
  highestFlowM3PerS: null,
  armPressurePa: null,
  highestLoadN: null,
};
function toElementFacts(element: WireElement): FixtureElementFacts {
  const { id, kind, name, quantity, form = null, acting = null, si } = element;
  const figures = Object.fromEntries(
    Object.entries(UNKNOWN).map(([figure, unknown]) => [figure, si[figure as keyof ElementFigures] ?? unknown]),
  ) as unknown as ElementFigures;
  return { id, kind, name, quantity, form, acting, ...figures };
}
