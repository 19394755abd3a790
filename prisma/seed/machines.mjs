import { addSignals, controlColumns } from './control.mjs';
import { addFixture } from './fixtures.mjs';
import { bar, celsius, columns, figure, q } from './quantities.mjs';

/** @typedef {import('./rows.types.js').InstalledComponentRow} InstalledComponentRow */
/** @typedef {import('./rows.types.js').StationRow} StationRow */
/** @typedef {import('./library.mjs').ComponentTypeKey} ComponentTypeKey */
/** @typedef {import('./world.types.js').Circuit} Circuit */
/** @typedef {import('./world.types.js').CircuitPlan} CircuitPlan */
/** @typedef {import('./world.types.js').Machine} Machine */
/** @typedef {import('./world.types.js').MachineSpec} MachineSpec */
/** @typedef {import('./world.types.js').Settings} Settings */
/** @typedef {import('./world.types.js').World} World */
/** @typedef {'supply' | 'tank' | 'clamp' | 'unclamp'} LineFunction */
/** @typedef {{ power_unit_id: string } | { circuit_id: string }} Place where a component is installed */
/** @typedef {(what: ComponentTypeKey, where: Place, designation: string, lines: LineFunction[], more?: Partial<InstalledComponentRow>) => InstalledComponentRow} Install */

const DAY = 86_400_000;

/**
 * Settings in bar as the columns of a revision.
 * @param {Settings} settings
 */
const settingColumns = (settings) => ({
  ...columns('setting', 'pa', bar(settings.setting)),
  ...columns('setting_tolerance', 'pa', bar(settings.setting_tolerance)),
  ...columns('set_point', 'pa', bar(settings.set_point)),
  ...columns('reset_point', 'pa', bar(settings.reset_point)),
  ...columns('air_pressure', 'pa', settings.air_pressure === undefined ? null : bar(settings.air_pressure)),
  ...columns('pump_restart', 'pa', bar(settings.pump_restart)),
  ...columns('pump_restart_tolerance', 'pa', bar(settings.pump_restart_tolerance)),
});

/** @param {number} metres */
const lengthOf = (metres) => ({ length: figure(metres, 'm', 'measured when it was fitted (invented)') });

/** @type {[string, ...string[]]} */
const PEOPLE = ['Marta Osorde', 'Rui Calvane', 'Ines Tavoa', 'Xoel Brandes'];

/**
 * Writes the rows of one machine: power unit, stations, circuits, components, fixtures, operations, settings and their history.
 * @param {World} world
 * @param {MachineSpec} spec
 */
export function buildMachine(world, spec) {
  const { random, rows, types, now } = world;
  const { site, name, isPallets, isElectric, wayIn } = spec;
  const installedAt = new Date(now.getTime() - spec.daysAgo * DAY);
  const key = { customer_id: site.customer_id };
  const machineId = random.id(installedAt);
  rows.machines.push({
    ...key,
    id: machineId,
    site_id: site.id,
    name,
    description: isPallets ? 'Machining centre with two pallets' : 'Machining centre, one station',
    model: spec.model,
    serial: `SN-${random.whole(10_000, 99_999)}`,
    made_year: installedAt.getUTCFullYear() - random.whole(0, 9),
    form: isPallets ? 'pallets' : 'single-station',
    way_in: wayIn,
    axes: isPallets ? 'X Y Z B' : 'X Y Z',
    supply_voltage_v: 400,
    spare_inputs: random.whole(2, 16),
    spare_outputs: random.whole(2, 12),
    ...columns('control_reaction', 's', q(random.pick([0.8, 1.2, 1.6, 2.4]), 's')),
    in_service_on: installedAt.toISOString().slice(0, 10),
    warranty_until: new Date(installedAt.getTime() + 730 * DAY).toISOString().slice(0, 10),
    trained_persons: 'two operators, one maintenance technician',
    kit_list: '',
    as_shipped: '',
    as_received: '',
    quote_reference: `Q-${random.whole(1000, 9999)}`,
    emergency_stop_behaviour: spec.emergencyStop ?? 'Outputs off; the detented valve stays where it was.',
    ...controlColumns(spec.control),
    disposition: 'in-service',
    disposition_on: null,
    created_at: installedAt,
    version: 1,
  });
  rows.machine_placements.push({
    ...key,
    id: random.id(installedAt),
    machine_id: machineId,
    site_id: site.id,
    valid_from: installedAt,
    valid_to: null,
    reason: 'entered',
  });
  const powerUnitId = random.id(installedAt);
  rows.power_units.push({
    ...key,
    id: powerUnitId,
    machine_id: machineId,
    name: 'Power unit 1',
    drive: isElectric ? 'electric' : 'air',
    ...columns('plant_air_low', 'pa', isElectric ? null : bar(5.2)),
    ...columns('plant_air_high', 'pa', isElectric ? null : bar(6.5)),
    ...columns('oil_viscosity_at40', 'm2_per_s', q(32, 'mm2/s')),
    ...columns('oil_viscosity_at100', 'm2_per_s', q(5.4, 'mm2/s')),
    ...columns('oil_density', 'kg_per_m3', q(870, 'kg/m3')),
    ...columns('oil_bulk_modulus', 'pa', q(1500, 'MPa')),
    oil_air_fraction: 0.005,
    ...columns('cold_oil_temperature', 'k', celsius(15)),
    ...columns('working_oil_temperature', 'k', celsius(38)),
    note: '',
    created_at: installedAt,
    version: 1,
  });
  /** @type {Install} */
  const install = (what, where, designation, lines, more = {}) => {
    const component = {
      ...key,
      id: random.id(installedAt),
      machine_id: machineId,
      power_unit_id: null,
      circuit_id: null,
      ...where,
      component_type_id: types[what],
      designation,
      line_functions: lines,
      serial: '',
      lot: '',
      made_on: null,
      figures: {},
      sensing: null,
      valid_from: installedAt,
      valid_to: null,
      reason: 'first installation',
      removed_reason: '',
      recorded_by: world.engineer.id,
      version: 1,
      ...more,
    };
    rows.installed_components.push(component);
    return component;
  };
  const unit = { power_unit_id: powerUnitId };
  install(isElectric ? 'electricPump' : 'pump', unit, 'H0.1', ['supply'], { serial: `P-${random.whole(1000, 9999)}` });
  install('reservoir', unit, 'H0.2', ['tank']);
  if (!isElectric) install('regulator', unit, 'H0.3', []);
  install(spec.relief ?? 'relief', unit, 'H0.4', ['supply']);
  install('tube', unit, 'H0.5', ['supply', 'tank'], { figures: lengthOf(2.5) });
  const machine = { id: machineId, name, spec, installedAt, powerUnitId };
  const stations = isPallets ? ['Pallet 1', 'Pallet 2'] : ['Station 1'];
  const circuits = stations.map((stationName, index) => {
    /** @type {StationRow} */
    const station = {
      ...key,
      id: random.id(installedAt),
      machine_id: machineId,
      name: stationName,
      position: index,
      created_at: installedAt,
      version: 1,
    };
    rows.stations.push(station);
    return buildCircuit(world, machine, station, index, install);
  });
  world.machines.push({ ...machine, circuits });
}

/**
 * @param {World} world
 * @param {Omit<Machine, 'circuits'>} machine
 * @param {StationRow} station
 * @param {number} index of the circuit at its machine
 * @param {Install} install
 * @returns {Circuit}
 */
function buildCircuit(world, machine, station, index, install) {
  const { random, rows, now } = world;
  const { spec, installedAt } = machine;
  /** @type {CircuitPlan} */
  const plan = { ...spec.circuits?.[index] };
  const key = { customer_id: station.customer_id };
  const circuitId = random.id(installedAt);
  rows.circuits.push({
    ...key,
    id: circuitId,
    machine_id: machine.id,
    power_unit_id: machine.powerUnitId,
    station_id: station.id,
    name: station.name,
    purpose: 'clamping',
    has_reducing_valve: false,
    // The pump's own outlet check shuts the oil in once the pump has stalled: until the next stroke it warms a little.
    can_trap: true,
    ...columns('trapped_temperature_rise', 'k', q(plan.canTrap ? 3 : 2, 'K')),
    trapped_net_expansion_per_k: 0.00066,
    // Oil of 1.5 GPa with a little air in it, and hoses that swell.
    ...columns('trapped_bulk_modulus', 'pa', q(900, 'MPa')),
    // With the same hose in it.
    ...columns('unclamp_bulk_modulus', 'pa', q(900, 'MPa')),
    unclamp_line_can_block: plan.unclampCanBlock ?? false,
    ...columns('clamp_time_allowed', 's', q(2.5, 's')),
    ...columns('unclamp_time_allowed', 's', q(3, 's')),
    is_decoupled: plan.decoupled !== undefined,
    ...columns('time_without_supply', 's', plan.decoupled ? q(plan.decoupled.hours, 'h') : null),
    ...columns('cooling_without_supply', 'k', plan.decoupled ? q(plan.decoupled.cooling, 'K') : null),
    is_proved_again: plan.decoupled?.isProvedAgain ?? null,
    valve_behaviour: 'double-detented',
    is_check_held: plan.canTrap ?? false,
    needs_open_proof: false,
    has_open_proof: null,
    ...columns('return_pressure', 'pa', bar(1)),
    note: '',
    created_at: installedAt,
    version: 1,
  });
  const here = { circuit_id: circuitId };
  const n = index + 1;
  install('valveDouble', here, `H${n}.1`, ['supply', 'tank', 'clamp', 'unclamp']);
  const pressureSwitch = install('switch', here, `H${n}.2`, ['clamp'], {
    sensing: 'clamp-line',
    // Beyond the sequence valve, and the check valve where one holds the clamps.
    is_beyond_shut_off: true,
    serial: `S-${random.whole(1000, 9999)}`,
  });
  install('gauge250', here, `H${n}.3`, ['clamp']);
  install(plan.manifold ?? 'manifold', here, `H${n}.4`, ['clamp', 'unclamp']);
  if (spec.wayIn !== 'direct')
    install(spec.wayIn === 'rotary-union' ? 'rotaryUnion' : 'throughTable', here, `H${n}.5`, ['clamp', 'unclamp']);
  install('tube', here, `H${n}.6`, ['clamp', 'unclamp'], { figures: lengthOf(3) });
  const madeOn = new Date(installedAt.getTime() - random.whole(20, 150) * DAY).toISOString().slice(0, 10);
  const lot = plan.hoseLot ?? `L-${random.whole(3000, 8999)}`;
  install('hose', here, `H${n}.7`, ['clamp'], { lot, made_on: madeOn, figures: lengthOf(1.2) });
  install('hose', here, `H${n}.8`, ['unclamp'], {
    lot: plan.hoseLot ?? lot,
    made_on: madeOn,
    figures: lengthOf(1.2),
  });
  install('sequence', here, `H${n}.10`, ['clamp']);
  if (plan.canTrap) {
    install('checkValve', here, `H${n}.9`, ['clamp']);
    // What is shut in behind it warms up, and swing clamps that are unclamped against it press upon it.
    install('relief', here, `H${n}.11`, ['clamp'], { is_beyond_shut_off: true });
  }
  const required = plan.required === undefined ? random.whole(98, 118) : plan.required;
  const fixture = addFixture(world, station, installedAt, {
    rating: plan.rating ?? random.pick([210, 220, 250]),
    required,
    limit: plan.limit,
    notRated: plan.fixtureNotRated,
  });
  const setting = plan.setting ?? random.whole(170, 178);
  const reset = plan.reset ?? random.whole(136, 144);
  /** @type {Settings} */
  const settings = {
    setting,
    setting_tolerance: plan.tolerance ?? 4,
    set_point: plan.set ?? reset + 8,
    reset_point: reset,
    // Its pump stalls at or above the setting.
    air_pressure: spec.isElectric ? undefined : Math.ceil((setting / (40 * 0.98)) * 10) / 10,
    pump_restart: spec.isElectric ? 160 : Math.max(reset + 14, setting - 14),
    pump_restart_tolerance: spec.isElectric ? 4 : 3,
  };
  const sharedDip = spec.isPallets ? (plan.dip ?? 6) : undefined;
  /** @type {Circuit} */
  const circuit = {
    id: circuitId,
    key,
    station,
    fixture,
    settings,
    sharedDip,
    isElectric: spec.isElectric,
    isDecoupled: plan.decoupled !== undefined,
    pressureSwitch,
    revision: 0,
    targetRevision: 0,
  };
  addTarget(world, circuit, new Date(installedAt.getTime() - 8 * DAY), 'sized for the first installation');
  addSetup(world, circuit, installedAt, 'first commissioning', fixture.id);
  if (spec.daysAgo > 200 && random.chance(0.45)) {
    const at = new Date(now.getTime() - random.whole(40, spec.daysAgo - 60) * DAY);
    addSetup(
      world,
      circuit,
      at,
      random.pick(['yearly inspection', 'regulator readjusted', 'switch exchanged and set anew']),
      fixture.id,
    );
  }
  addSignals(world, machine, circuit, index, installedAt);
  return circuit;
}

/**
 * @param {World} world
 * @param {Circuit} circuit
 * @param {Date} at
 * @param {string} reason
 * @param {Partial<Settings>} [change]
 */
export function addTarget(world, circuit, at, reason, change = {}) {
  circuit.settings = { ...circuit.settings, ...change };
  circuit.targetRevision += 1;
  world.rows.target_settings.push({
    ...circuit.key,
    id: world.random.id(at),
    circuit_id: circuit.id,
    revision: circuit.targetRevision,
    ...settingColumns(circuit.settings),
    reason,
    released_at: at,
    released_by: world.engineer.id,
    released_by_name: world.engineer.display_name,
  });
}

/**
 * About what the strokes take with oil at work, and the switch to tell, in seconds: the more clamps, the longer; the electric pump gives more.
 * @param {Pick<Circuit, 'fixture' | 'isElectric'>} circuit
 */
function toTimes({ fixture: { clamps }, isElectric }) {
  return isElectric
    ? { clamp: 0.12 + 0.095 * clamps, unclamp: 0.01 + 0.103 * clamps }
    : { clamp: 0.2 + 0.14 * clamps, unclamp: 0.02 + 0.129 * clamps };
}

/**
 * @param {World} world
 * @param {Circuit} circuit
 * @param {Date} at
 * @param {string} reason
 * @param {string} fixtureId
 */
export function addSetup(world, circuit, at, reason, fixtureId) {
  const { random } = world;
  circuit.revision += 1;
  const person = random.pick(PEOPLE);
  const times = toTimes(circuit);
  /** @param {number} seconds */
  const timed = (seconds) => q(Math.round(seconds * random.whole(95, 115)) / 100, 's');
  const clampTime = timed(times.clamp);
  world.rows.setup_records.push({
    ...circuit.key,
    id: random.id(at),
    circuit_id: circuit.id,
    revision: circuit.revision,
    ...settingColumns(circuit.settings),
    ...columns('clamp_time', 's', clampTime),
    ...columns('contact_time', 's', q(Math.round(clampTime.si * 82) / 100, 's')),
    // Timed on the control's own trace.
    ...columns('time_tolerance', 's', q(0.02, 's')),
    ...columns('unclamp_time', 's', timed(times.unclamp)),
    ...columns('decay', 'pa', bar(random.whole(1, 4))),
    // Of a pallet that is left to itself it is read for longer: its leak counts on both sides of the pistons.
    ...columns('decay_duration', 's', q(circuit.isDecoupled ? 60 : 5, 'min')),
    ...columns('oil_temperature', 'k', celsius(38)),
    ...columns(
      'lowest_while_shared',
      'pa',
      circuit.sharedDip === undefined ? null : bar(circuit.settings.setting - circuit.sharedDip),
    ),
    basis: 'report',
    report_name: `Commissioning report ${at.toISOString().slice(0, 10)}`,
    fixture_id: fixtureId,
    ...columns('gauge_span', 'pa', bar(250)),
    gauge_class: '1.6',
    gauge_identity: `G-${random.whole(10, 99)}`,
    gauge_calibrated_on: new Date(at.getTime() - random.whole(20, 300) * DAY).toISOString().slice(0, 10),
    reason,
    measured_at: at,
    recorded_at: at,
    recorded_by: world.engineer.id,
    recorded_by_name: world.engineer.display_name,
    measured_by_name: person,
  });
  addEvent(
    world,
    circuit,
    at,
    circuit.revision === 1 ? 'installed' : 'adjusted',
    `${reason}: set to ${circuit.settings.setting} bar, switch ${circuit.settings.set_point} / ${circuit.settings.reset_point} bar`,
    person,
  );
}

/**
 * @param {World} world
 * @param {Circuit} circuit
 * @param {Date} at
 * @param {string} kind
 * @param {string} text
 * @param {string} [person]
 */
export function addEvent(world, circuit, at, kind, text, person = 'Marta Osorde') {
  world.rows.service_events.push({
    ...circuit.key,
    id: world.random.id(at),
    machine_id: circuit.station.machine_id,
    circuit_id: circuit.id,
    kind,
    occurred_at: at,
    text,
    person_name: person,
    recorded_at: at,
    recorded_by: world.engineer.id,
  });
}
