import { addFixture, addOperation } from './fixtures.mjs';
import { addEvent, addSetup, addTarget, buildMachine } from './machines.mjs';
import { need, needCircuit } from './need.mjs';

/** @typedef {import('./rows.types.js').IssueRow} IssueRow */
/** @typedef {import('./world.types.js').Circuit} Circuit */
/** @typedef {import('./world.types.js').Machine} Machine */
/** @typedef {import('./world.types.js').MachinePlan} MachinePlan */
/** @typedef {import('./world.types.js').Story} Story */
/** @typedef {import('./world.types.js').World} World */

const DAY = 86_400_000;
const RECALLED_LOT = 'L-2419';

/**
 * What is special about some machines, by their place in the fleet: found on its page, or a step behind it.
 * @type {Readonly<Record<number, MachinePlan>>}
 */
const SPECIAL = {
  2: {
    story: 'fixture-swapped',
    isPallets: true,
    circuits: [
      { rating: 210, setting: 178, tolerance: 5, reset: 142 },
      { rating: 210, setting: 178, tolerance: 5, reset: 141 },
    ],
  },
  5: { story: 'new-roughing', isPallets: false, circuits: [{ required: 118, setting: 180, reset: 140, rating: 220 }] },
  6: {
    story: 'thin-workpiece',
    isPallets: true,
    circuits: [{ required: 104, limit: 96, setting: 128, reset: 112, rating: 210 }, {}],
  },
  8: {
    story: 'shared-supply',
    isPallets: true,
    circuits: [
      { required: 112, reset: 146, setting: 174, rating: 210, dip: 28 },
      { setting: 174, rating: 210 },
    ],
  },
  11: {
    story: 'emergency-stop',
    isPallets: false,
    emergencyStop:
      'Reset after emergency stop switches output Y1 on again before the program runs: the valve would move to unclamp.',
    control: { onReset: 'unclamp' },
    circuits: [{}],
  },
  13: { story: 'recall', isPallets: true, circuits: [{ hoseLot: RECALLED_LOT }, { hoseLot: RECALLED_LOT }] },
  14: { story: 'recall-exchanged', isPallets: true, circuits: [{ hoseLot: RECALLED_LOT }, { hoseLot: RECALLED_LOT }] },
  15: { story: 'recall-sold', isPallets: false, circuits: [{ hoseLot: RECALLED_LOT }] },
  18: {
    story: 'gauge-error',
    isPallets: false,
    circuits: [{ required: 86, limit: 139, setting: 120, tolerance: 4, reset: 98 }],
  },
  21: { story: 'blocked-unclamp', isPallets: true, circuits: [{ unclampCanBlock: true }, {}] },
  24: { story: 'missing-rating', isPallets: false, circuits: [{ manifold: 'manifoldUnrated' }] },
  27: { story: 'no-cutting-data', isPallets: false, circuits: [{ required: null }] },
  30: {
    story: 'trapped',
    isPallets: true,
    circuits: [
      {
        canTrap: true,
        required: 100,
        setting: 160,
        reset: 132,
        rating: 250,
        decoupled: { hours: 0.2, cooling: 1, isProvedAgain: true },
      },
      {},
    ],
  },
};

const MACHINE_COUNT = 44;

/**
 * Forty-four machines over the sites, then what happened to some of them.
 * @param {World} world
 */
export function buildScenario(world) {
  const { random, sites } = world;
  for (let index = 0; index < MACHINE_COUNT; index += 1) {
    const special = SPECIAL[index] ?? {};
    const isPallets = special.isPallets ?? index % 10 < 7;
    const isHorizontal = index % 3 === 1;
    buildMachine(world, {
      ...special,
      site: need(sites[index % sites.length], 'a site'),
      name: `${isHorizontal ? 'HMC' : 'VMC'}-${String(index + 1).padStart(2, '0')}`,
      model: isHorizontal ? 'horizontal, 500 mm pallets' : 'vertical, 1000 mm table',
      isPallets,
      isElectric: special.story === undefined && index % 9 === 4,
      wayIn: isPallets
        ? index % 4 === 3
          ? 'through-table-supply'
          : 'rotary-union'
        : index % 2 === 0
          ? 'direct'
          : 'through-table-supply',
      daysAgo: random.whole(90, 720),
    });
  }
  /** @param {Story} story */
  const machineOf = (story) =>
    need(
      world.machines.find((machine) => machine.spec.story === story),
      `the machine of ${story}`,
    );
  swapFixture(world, machineOf('fixture-swapped'));
  addRoughing(world, machineOf('new-roughing'));
  exchangeHoses(world, machineOf('recall-exchanged'));
  sell(world, machineOf('recall-sold'));
  thinRing(world, machineOf('thin-workpiece'));
  openIssues(world, machineOf);
}

/**
 * @param {World} world
 * @param {string} stationId
 * @param {Date} at
 */
function endFitting(world, stationId, at) {
  const fittings = world.rows.fixture_fittings;
  const current = fittings.find((fitting) => fitting.station_id === stationId && fitting.valid_to === null);
  need(current, 'a fixture at the station').valid_to = at;
}

/**
 * @param {World} world
 * @param {Machine} machine
 */
function swapFixture(world, machine) {
  const circuit = needCircuit(machine, 1);
  const at = new Date(world.now.getTime() - 28 * DAY);
  endFitting(world, circuit.station.id, at);
  circuit.fixture = addFixture(world, circuit.station, at, {
    rating: 160,
    required: 108,
    name: 'F-231',
    reason: 'new part family; settings left as they were',
  });
  addEvent(
    world,
    circuit,
    at,
    'fixture-changed',
    'Fixture F-231 fitted by the customer; settings left as they were',
    'customer',
  );
  // What was read at pallet 1 while pallet 2 clamped its former fixture says nothing any more.
  const other = needCircuit(machine);
  const readAt = new Date(world.now.getTime() - 27 * DAY);
  addSetup(world, other, readAt, 'read again with the new fixture on pallet 2', other.fixture.id);
}

/**
 * @param {World} world
 * @param {Machine} machine
 */
function addRoughing(world, machine) {
  const circuit = needCircuit(machine);
  const at = new Date(world.now.getTime() - 12 * DAY);
  addOperation(world, {
    customerId: circuit.key.customer_id,
    fixtureId: circuit.fixture.id,
    number: 40,
    name: 'Rough pocket, high feed',
    tool: 'High-feed mill 50, four teeth',
    at,
    required: 148,
  });
  addEvent(world, circuit, at, 'other', 'Operation 40 added: high-feed roughing of the pocket', 'customer');
}

/**
 * On one pallet both recalled hoses are exchanged, on the other they still serve.
 * @param {World} world
 * @param {Machine} machine
 */
function exchangeHoses(world, machine) {
  const { random, rows } = world;
  const circuit = needCircuit(machine);
  const at = new Date(world.now.getTime() - 18 * DAY);
  const recalled = rows.installed_components.filter(
    (component) => component.circuit_id === circuit.id && component.lot === RECALLED_LOT,
  );
  for (const hose of recalled) {
    hose.valid_to = at;
    hose.removed_reason = 'recalled lot';
    rows.installed_components.push({
      ...hose,
      id: random.id(at),
      lot: 'L-9027',
      made_on: new Date(at.getTime() - 60 * DAY).toISOString().slice(0, 10),
      valid_from: at,
      valid_to: null,
      reason: 'exchange of a recalled lot',
      removed_reason: '',
    });
  }
  addSetup(world, circuit, at, 'hoses of a recalled lot exchanged', circuit.fixture.id);
  addEvent(world, circuit, at, 'component-exchanged', `Clamp and unclamp hose of lot ${RECALLED_LOT} exchanged`);
}

/**
 * @param {World} world
 * @param {Machine} machine
 */
function sell(world, machine) {
  const row = need(
    world.rows.machines.find(({ id }) => id === machine.id),
    machine.name,
  );
  const soldAt = new Date(world.now.getTime() - 75 * DAY);
  row.disposition = 'sold';
  row.disposition_on = soldAt.toISOString().slice(0, 10);
  addEvent(
    world,
    needCircuit(machine),
    soldAt,
    'other',
    'Sold by the customer; the new owner is not known to us',
    'customer',
  );
}

/**
 * @param {World} world
 * @param {Machine} machine
 */
function thinRing(world, machine) {
  const circuit = needCircuit(machine);
  addTarget(world, circuit, new Date(world.now.getTime() - 30 * DAY), 'lowered for the thin ring', {
    setting: 118,
    reset_point: 100,
    set_point: 108,
  });
}

/**
 * @param {World} world
 * @param {(story: Story) => Machine} machineOf
 */
function openIssues(world, machineOf) {
  const { random, rows, now } = world;
  /**
   * @param {Machine} machine
   * @param {Circuit} circuit
   * @param {number} daysAgo
   * @param {Partial<IssueRow> & { title: string }} fields
   */
  const open = (machine, circuit, daysAgo, fields) => {
    const at = new Date(now.getTime() - daysAgo * DAY);
    world.issueCount += 1;
    rows.issues.push({
      ...circuit.key,
      id: random.id(at),
      number: world.issueCount,
      machine_id: machine.id,
      circuit_id: circuit.id,
      check_code: null,
      kind: 'other',
      description: '',
      state: 'open',
      close_reason: '',
      opened_at: at,
      opened_by: world.engineer.id,
      opened_by_name: world.engineer.display_name,
      closed_at: null,
      closed_by_name: '',
      version: 1,
      ...fields,
    });
  };
  const shared = machineOf('shared-supply');
  open(shared, needCircuit(shared), 6, {
    kind: 'alarm',
    title: 'Pallet 1 loses its switch while pallet 2 clamps',
    description:
      'Alarms of pallet 1 fall into the hours in which pallet 2 clamps most. The shared pump is pulled down; gauge at pallet 1 seen to dip to 146 bar.',
  });
  const stop = machineOf('emergency-stop');
  open(stop, needCircuit(stop), 9, {
    kind: 'other',
    title: 'Reset after emergency stop would unclamp',
    description:
      'Output Y1 comes back by itself on reset, and moves the valve from its detent to unclamp. To be proven and rewired before the next visit.',
  });
  const recall = machineOf('recall');
  open(recall, needCircuit(recall), 20, {
    kind: 'component',
    title: `Hose lot ${RECALLED_LOT}: exchange`,
    description:
      'Braid may part at the collar. Search the lot to see every circuit that has or had one, a sold machine among them.',
  });
  const swapped = machineOf('fixture-swapped');
  open(swapped, needCircuit(swapped, 1), 3, {
    kind: 'check',
    check_code: 'setting-within-rating',
    title: 'Fixture F-231 is rated below the setting',
    description: '',
  });
  const closed = machineOf('gauge-error');
  open(closed, needCircuit(closed), 120, {
    kind: 'other',
    title: 'Gauge glass cracked',
    state: 'closed',
    close_reason: 'gauge exchanged',
    closed_at: new Date(now.getTime() - 110 * DAY),
    closed_by_name: 'Rui Calvane',
  });
}
