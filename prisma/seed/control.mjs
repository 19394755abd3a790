import { celsius, columns, q } from './quantities.mjs';

/** @typedef {import('@repo/contracts').ControlBehaviour} ControlBehaviour */
/** @typedef {import('./rows.types.js').SignalRow} SignalRow */

/**
 * What the control of a machine does, as somebody has said: sound in every rule.
 * @type {ControlBehaviour}
 */
const BEHAVIOUR = {
  onPressureLoss: 'stop',
  cutNeedsSwitch: true,
  palletNeedsSwitch: true,
  unclampBlockedWhile: 'turning',
  alarmLatches: true,
  resetClearsAlarm: false,
  alarmMasked: true,
  onEmergencyStop: 'keep',
  onReset: 'keep',
  onPowerReturn: 'keep',
  onAirLow: 'stop',
  airReturn: 'by-hand',
  switchMustOpen: true,
  manualInterlocked: true,
};

/**
 * The columns of a machine that its wiring and its interlock are proved from.
 * @param {Partial<ControlBehaviour>} [change]
 */
export const controlColumns = (change = {}) => ({
  control_voltage_v: 24,
  supply_rating_w: 120,
  supply_peak_w: 180,
  control_load_w: 20,
  control_load_peak_w: 30,
  supply_reserve_ratio: 0.25,
  ...columns('control_temperature', 'k', celsius(40)),
  has_separate_commons: true,
  output_rating_v: 60,
  control_behaviour: { ...BEHAVIOUR, ...change },
});

/**
 * M-codes, outputs to the coils and the switch's input, with their wires.
 * @param {import('./world.types.js').World} world
 * @param {Pick<import('./world.types.js').Machine, 'id'>} machine
 * @param {import('./world.types.js').Circuit} circuit
 * @param {number} index of the circuit at its machine
 * @param {Date} at
 */
export function addSignals(world, machine, circuit, index, at) {
  const { random, rows } = world;
  const base = { ...circuit.key, created_at: at, version: 1 };
  /**
   * @param {number} number
   * @param {string} action
   */
  const code = (number, action) => {
    const id = random.id(at);
    rows.m_codes.push({
      ...base,
      id,
      machine_id: machine.id,
      station_id: circuit.station.id,
      code: `M${number}`,
      action,
      waits_for_answer: true,
      ...columns('time_out', 's', q(8, 's')),
      note: '',
    });
    return id;
  };
  const coil = {
    direction: 'output',
    suppression: 'transient-suppressor',
    suppression_voltage_v: 33,
    is_polarity_right: true,
    is_held_on: true,
  };
  /** @param {Partial<SignalRow> & Pick<SignalRow, 'direction' | 'name' | 'address'>} fields */
  const signal = (fields) => {
    const id = random.id(at);
    rows.signals.push({
      ...base,
      id,
      machine_id: machine.id,
      circuit_id: circuit.id,
      m_code_id: null,
      component_id: null,
      relay: '',
      contact: '',
      alarm: '',
      reaction: '',
      note: '',
      acts_on: 'none',
      suppression: null,
      suppression_voltage_v: null,
      is_polarity_right: null,
      is_held_on: null,
      ...fields,
    });
    rows.wires.push({
      ...base,
      id: random.id(at),
      signal_id: id,
      number: `${index + 1}${rows.wires.length % 90}`,
      from_terminal: `X${index + 1}.${rows.wires.length % 12}`,
      to_terminal: fields.name,
      colour: 'blue',
      ...columns('cross_section', 'm2', q(0.75, 'mm2')),
      ...columns('length', 'm', q(12, 'm')),
      insulation_voltage_v: 300,
      protection_a: 4,
      conductor_limit_a: 7,
      highest_in_cable_v: 24,
      note: '',
    });
  };
  const clamp = code(60 + index * 2, 'clamp');
  const unclamp = code(61 + index * 2, 'unclamp');
  signal({
    ...coil,
    m_code_id: clamp,
    name: `Y${index * 2}`,
    address: `out ${index * 2}`,
    acts_on: 'clamp-coil',
    relay: `K${index * 2 + 1}`,
  });
  signal({
    ...coil,
    m_code_id: unclamp,
    name: `Y${index * 2 + 1}`,
    address: `out ${index * 2 + 1}`,
    acts_on: 'unclamp-coil',
    relay: `K${index * 2 + 2}`,
  });
  signal({
    component_id: circuit.pressureSwitch.id,
    direction: 'input',
    name: `B${index + 1}`,
    address: `in ${index}`,
    contact: 'normally-open',
    alarm: `clamping pressure lost, ${circuit.station.name.toLowerCase()}`,
    reaction: 'feed hold, spindle stop',
  });
}
