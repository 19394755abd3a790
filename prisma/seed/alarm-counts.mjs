import { need, needCircuit } from './need.mjs';

/** @typedef {import('./rows.types.js').AlarmCountRow} AlarmCountRow */
/** @typedef {import('./rows.types.js').LateRows} LateRows */
/** @typedef {import('./rows.types.js').SourceRow} SourceRow */
/** @typedef {import('./world.types.js').Circuit} Circuit */
/** @typedef {import('./world.types.js').Machine} Machine */
/** @typedef {import('./world.types.js').World} World */

const HOUR = 3_600_000;
const DAY = 24 * HOUR;
/** The harbour's gateway is silent for so many days. */
const SILENT_DAYS = 4;
/** Alarms within a day that open an issue: common practice, no source. */
const RULE = { alarm_kind: null, threshold: 10, window_s: 86_400 };
const STROKES = 'pump-strokes-while-holding';
/** Pump strokes a day while holding, of the circuit that leaks more and more, up to yesterday. */
const LEAK = [0, 1, 0, 1, 1, 2, 1, 2, 3, 2, 4, 3, 5, 4, 6, 7, 6, 8, 9, 11, 12, 14, 13, 16];

/**
 * What gateways reported: counts by the day, and by the hour for the machine whose pallets disturb each other. One gateway has
 * fallen silent, one circuit leaks more and more, one day was reported twice with different numbers.
 * @param {World} world
 */
export function buildAlarmCounts(world) {
  const { random, rows, now } = world;
  const midnight = new Date(Math.floor(now.getTime() / DAY) * DAY);
  const began = new Date(now.getTime() - 700 * DAY);
  const silentSince = new Date(midnight.getTime() - SILENT_DAYS * DAY + 14 * HOUR);
  /**
   * @param {string} name
   * @param {Date} heardAt
   * @param {number} offset of its clock, in seconds
   * @returns {SourceRow}
   */
  const source = (name, heardAt, offset) => ({
    id: random.id(began),
    name,
    last_heard_at: heardAt,
    clock_offset_s: offset,
    // They report by the day.
    silent_after_s: 36 * 3600,
    created_at: began,
    version: 1,
  });
  const north = source('Gateway north', new Date(now.getTime() - 4 * 60_000), 0.4);
  const harbour = source('Gateway harbour', silentSince, -41);
  const leaking = need(
    world.machines.find((machine) => machine.spec.story === undefined && machine.circuits.length > 1),
    'a machine of two pallets that nothing else is told about',
  );
  /** @type {LateRows} */
  const late = { source_machines: [], deliveries: [], findings: [], alarm_rules: [], issues: [] };
  // A gateway stands at one customer's.
  const { customer_id: atHarbour } = needCircuit(need(world.machines[3], 'a fourth machine')).key;
  world.machines.forEach((machine) => {
    const isHarbour = needCircuit(machine).key.customer_id === atHarbour && machine !== leaking;
    const from = isHarbour ? harbour : north;
    late.source_machines.push({
      ...needCircuit(machine).key,
      id: random.id(began),
      source_id: from.id,
      external_reference: machine.spec.name,
      machine_id: machine.id,
      created_at: began,
    });
    const until = from === harbour ? Math.floor(silentSince.getTime() / DAY) * DAY : midnight.getTime();
    if (machine === leaking) countLeak(world, machine, from, until);
    else countMachine(world, machine, from, until);
  });
  addReceipts(world, north, now, late);
  addReceipts(world, harbour, silentSince, late);
  addContradiction(world, leaking, north, midnight, late);
  addStranger(world, north, midnight, late);
  late.alarm_rules.push({ id: random.id(began), ...RULE, is_on: true, created_at: began, version: 1 });
  addIssue(world, leaking, north, midnight, late);
  rows.number_counters = [{ noun: 'issue', last_number: world.issueCount }];
  return { sources: [north, harbour], late };
}

/**
 * @param {World} world
 * @param {Circuit} circuit
 * @param {SourceRow} source
 * @param {number} from
 * @param {number} length
 * @param {Partial<AlarmCountRow> & Pick<AlarmCountRow, 'clamp_cycles' | 'alarms'>} fields
 */
function addCount(world, circuit, source, from, length, fields) {
  world.rows.alarm_counts.push({
    ...circuit.key,
    circuit_id: circuit.id,
    source_id: source.id,
    webhook_id: `demo-${from}`,
    from_at: new Date(from),
    to_at: new Date(from + length),
    revision: 1,
    measures: null,
    numbers_hash: 0,
    prevails: true,
    ...fields,
  });
}

/**
 * @param {World} world
 * @param {Machine} machine
 * @param {SourceRow} source
 * @param {number} until
 */
function countMachine(world, machine, source, until) {
  const { random } = world;
  const isShared = machine.spec.story === 'shared-supply';
  const days = isShared ? 21 : 35;
  const step = isShared ? HOUR : DAY;
  machine.circuits.forEach((circuit, index) => {
    for (let at = until - days * DAY; at < until; at += step) {
      const hour = (at % DAY) / HOUR;
      const isShift = !isShared || (hour >= 6 && hour < 22);
      const other = isShared && index === 0 && isShift && hour % 3 === 1;
      const cycles = isShift ? random.count(isShared ? (index === 1 && hour % 3 === 1 ? 18 : 6) : 90) : 0;
      // The alarms of pallet 1 lie where pallet 2 clamps most, and grow week by week.
      const week = Math.floor((until - at - 1) / (7 * DAY));
      const mean = other ? ([0.25, 0.18, 0.1][week] ?? 0) : isShared ? 0 : 0.02;
      const lost = random.count(mean);
      /** @type {Record<string, number>} */
      const alarms = lost === 0 ? {} : { 'clamping-pressure-lost': lost };
      addCount(world, circuit, source, at, step, { clamp_cycles: cycles, alarms });
    }
  });
}

/**
 * A leak that grows, a weekend in which the gateway was exchanged, and a day that was counted anew.
 * @param {World} world
 * @param {Machine} machine
 * @param {SourceRow} source
 * @param {number} until
 */
function countLeak(world, machine, source, until) {
  const { random } = world;
  machine.circuits.forEach((circuit, index) => {
    for (let day = 35; day >= 1; day -= 1) {
      const at = until - day * DAY;
      if (day === 17 || day === 16) continue;
      const cycles = 70 + random.count(20);
      const strokes = index === 0 ? (LEAK[LEAK.length - day] ?? 0) : 0;
      const lost = index === 0 && day < 6 ? random.count(0.8) : 0;
      const alarms = {
        ...(strokes === 0 ? {} : { [STROKES]: strokes }),
        ...(lost === 0 ? {} : { 'clamping-pressure-lost': lost }),
      };
      if (index === 0 && day === 9) {
        addCount(world, circuit, source, at, DAY, { clamp_cycles: cycles - 31, alarms: {}, prevails: false });
        addCount(world, circuit, source, at, DAY, { clamp_cycles: cycles, alarms, revision: 2, numbers_hash: 1 });
      } else addCount(world, circuit, source, at, DAY, { clamp_cycles: cycles, alarms });
    }
  });
}

/**
 * A receipt an hour over ten days, but for one night.
 * @param {World} world
 * @param {SourceRow} source
 * @param {Date} until
 * @param {LateRows} late
 */
function addReceipts(world, source, until, late) {
  for (let hour = 10 * 24; hour >= 0; hour -= 1) {
    if (hour > 140 && hour < 149) continue;
    const at = new Date(until.getTime() - hour * HOUR);
    const isLast = source.name === 'Gateway north' && hour === 30;
    late.deliveries.push({
      id: world.random.id(at),
      source_id: source.id,
      webhook_id: `demo-${source.id.slice(-4)}-${at.getTime()}`,
      body_sha256: '\\x00',
      received_at: at,
      sent_at: new Date(at.getTime() - 2_000),
      state: isLast ? 'in-part' : 'taken-in',
      intervals: 62,
      set_aside: isLast ? 2 : 0,
    });
  }
}

/**
 * @param {Date} midnight
 * @param {number} ago
 */
const day = (midnight, ago) => midnight.getTime() - ago * DAY;

/**
 * The second pallet's day came twice, with two numbers of the same revision.
 * @param {World} world
 * @param {Machine} machine
 * @param {SourceRow} source
 * @param {Date} midnight
 * @param {LateRows} late
 */
function addContradiction(world, machine, source, midnight, late) {
  const circuit = needCircuit(machine, 1);
  const from = day(midnight, 5);
  const first = need(
    world.rows.alarm_counts.find((row) => row.circuit_id === circuit.id && row.from_at.getTime() === from),
    'counts of that day',
  );
  const cycles = first.clamp_cycles + 12;
  addCount(world, circuit, source, from, DAY, {
    webhook_id: `demo-${from}-again`,
    clamp_cycles: cycles,
    alarms: {},
    numbers_hash: 2,
    prevails: false,
  });
  /**
   * @param {string} webhookId
   * @param {number} clampCycles
   * @param {string} numbersHash
   */
  const contender = (webhookId, clampCycles, numbersHash) => ({
    sourceId: source.id,
    webhookId,
    from: new Date(from).toISOString(),
    to: new Date(from + DAY).toISOString(),
    revision: 1,
    clampCycles,
    alarms: {},
    numbersHash,
  });
  late.findings.push({
    id: world.random.id(new Date(from + 30 * HOUR)),
    key: `same-revision ${circuit.id} ${from} ${from + DAY} 1`,
    kind: 'same-revision',
    source_id: source.id,
    webhook_id: first.webhook_id,
    subject: circuit.id,
    circuit_id: circuit.id,
    detail: {
      contenders: [contender(first.webhook_id, first.clamp_cycles, '0'), contender(`demo-${from}-again`, cycles, '2')],
    },
    found_at: new Date(from + 30 * HOUR),
    state: 'open',
  });
}

/**
 * A machine that nobody has named to the gateway yet.
 * @param {World} world
 * @param {SourceRow} source
 * @param {Date} midnight
 * @param {LateRows} late
 */
function addStranger(world, source, midnight, late) {
  const at = new Date(world.now.getTime() - 30 * HOUR);
  const interval = {
    circuit: 'Pallet 1',
    from: new Date(day(midnight, 2)).toISOString(),
    to: new Date(day(midnight, 1)).toISOString(),
    revision: 1,
    clampCycles: 54,
    alarms: { 'low-air': 1 },
  };
  late.findings.push({
    id: world.random.id(at),
    key: `unknown-machine ${source.id} demo-stranger 0 VMC-new`,
    kind: 'unknown-machine',
    source_id: source.id,
    webhook_id: 'demo-stranger',
    subject: 'VMC-new',
    circuit_id: null,
    detail: { item: 0, machine: 'VMC-new', intervals: 1, part: { machine: 'VMC-new', intervals: [interval] } },
    found_at: at,
    state: 'open',
  });
}

/**
 * What the rule opened when the leak's strokes first reached it.
 * @param {World} world
 * @param {Machine} machine
 * @param {SourceRow} source
 * @param {Date} midnight
 * @param {LateRows} late
 */
function addIssue(world, machine, source, midnight, late) {
  const circuit = needCircuit(machine);
  const counted = world.rows.alarm_counts.filter((row) => row.circuit_id === circuit.id && row.prevails);
  /** @param {AlarmCountRow} row */
  const sum = (row) => Object.values(row.alarms).reduce((total, count) => total + count, 0);
  const intervals = counted
    .filter((row) => sum(row) * 2 >= RULE.threshold)
    .map((row) => ({
      from: row.from_at.toISOString(),
      to: row.to_at.toISOString(),
      count: sum(row),
      sourceId: source.id,
    }));
  const at = new Date(day(midnight, 4) + 20 * 60_000);
  world.issueCount += 1;
  late.issues.push({
    ...circuit.key,
    id: world.random.id(at),
    number: world.issueCount,
    machine_id: machine.id,
    circuit_id: circuit.id,
    kind: 'alarm',
    origin: 'alarm-rule',
    origin_key: circuit.id,
    check_code: null,
    title: `11 alarms within 1 d: ${circuit.station.name}`,
    description: '',
    state: 'open',
    close_reason: '',
    evidence: {
      rule: { alarmKind: RULE.alarm_kind, threshold: RULE.threshold, windowS: RULE.window_s },
      total: intervals.reduce((total, { count }) => total + count, 0),
      most: Math.max(...intervals.map(({ count }) => count)),
      intervals,
    },
    opened_at: at,
    opened_by: source.id,
    opened_by_name: source.name,
    closed_at: null,
    closed_by_name: '',
    version: 1,
  });
}
