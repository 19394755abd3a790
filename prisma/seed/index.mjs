import { hash } from '@node-rs/argon2';
import { withSeeding } from '@repo/api/seeding';
import { USUAL_MARGINS } from '@repo/calc/checks';
import pg from 'pg';
import { addComputedCut } from './computed-cut.mjs';
import { buildCustomers } from './customers.mjs';
import { buildLibrary } from './library.mjs';
import { createRandom } from './random.mjs';
import { buildScenario } from './scenario.mjs';
import { buildAlarmCounts } from './alarm-counts.mjs';
import { asStaff, emptyRows, insertRows, writeRows } from './write.mjs';

const DAY = 86_400_000;
const SEED = 20_261_125;
/** Some of the usual margins are too wide for a fleet that has been running for years: common practice, no source. */
const MARGINS = {
  ...USUAL_MARGINS,
  'holds-workpiece': 0.03,
  'no-nuisance-stop': 0.02,
  'setting-within-rating': 0.03,
  'highest-within-rating': 0,
  'workpiece-limit': 0.02,
  'shared-supply': 0.02,
  'holds-without-supply': 0.02,
  'clamping-time': 0.05,
  unclamping: 0.05,
  'order-and-speed': 0.03,
};

/** Who can sign in to the demonstration. */
const PEOPLE = [
  ['engineer', 'engineer', 'Ines Tavoa', 'sizes circuits, releases settings'],
  ['installer', 'installer', 'Rui Calvane', 'enters what was fitted and measured'],
  ['lead', 'lead', 'Marta Osorde', 'sees what needs a visit'],
  ['admin', 'administrator', 'Xoel Brandes', 'people and margins'],
  ['viewer', 'viewer', 'Lidia Varzelo', 'customer: sees the machines of Varzelo Pump Housings'],
  ['viewer2', 'viewer', 'Breixo Ledrado', 'customer: sees the machines of Ledrado Valve Bodies'],
];

async function onConnection(url, work) {
  const client = new pg.Client({ connectionString: url });
  await client.connect();
  try {
    return await work(client);
  } finally {
    await client.end();
  }
}

/** The organisation, its people and their sign-ins: written by the owner, since nobody can sign in yet. */
async function insertPeople(ownerUrl, gateUrl, { organisationId, people, passwordHash }) {
  await onConnection(gateUrl, async (client) => {
    for (const person of people) {
      await client.query('INSERT INTO users (id, email, display_name, password_hash) VALUES ($1, $2, $3, $4)', [
        person.userId,
        person.email,
        person.displayName,
        passwordHash,
      ]);
    }
  });
  await onConnection(ownerUrl, async (client) => {
    for (const person of people) {
      await client.query(
        'INSERT INTO memberships (organisation_id, id, user_id, customer_id, role, display_name) VALUES ($1, $2, $3, $4, $5, $6)',
        [organisationId, person.membershipId, person.userId, person.customerId, person.role, person.displayName],
      );
    }
  });
}

/**
 * Loads the invented demonstration: an integrator, twelve customers, sixteen sites, forty-four machines, two years of history.
 * The scenario is the same every time but for its dates, which count back from `now`.
 */
export async function loadDemo({ ownerUrl, appUrl, gateUrl, password, now = new Date() }) {
  const random = createRandom(SEED);
  const began = new Date(now.getTime() - 740 * DAY);
  const organisationId = random.id(began);
  const { customers, sites } = buildCustomers(random, began);
  const people = PEOPLE.map(([mail, role, displayName, note]) => ({
    email: `${mail}@demo.example`,
    role,
    displayName,
    note,
    userId: random.id(began),
    membershipId: random.id(began),
    customerId: role !== 'viewer' ? null : customers[mail === 'viewer' ? 0 : 1].id,
  }));
  const engineer = { id: people[0].membershipId, display_name: people[0].displayName };
  const library = buildLibrary(random, began);
  const rows = emptyRows();
  const world = {
    random,
    rows,
    types: library.ids,
    now,
    sites,
    engineer,
    machines: [],
    fixtureCount: 0,
    issueCount: 0,
  };
  rows.customers = customers;
  rows.sites = sites;
  rows.component_types = library.rows;
  rows.component_type_revisions = library.rows.map((type) => ({
    id: random.id(began),
    component_type_id: type.id,
    revision: 1,
    figures: type.figures,
    name: type.name,
    reason: 'first entry',
    recorded_at: began,
    recorded_by: engineer.id,
  }));
  buildScenario(world);
  await addComputedCut(world);
  const { sources, late } = buildAlarmCounts(world);
  const passwordHash = await hash(password, { memoryCost: 19_456, timeCost: 2, parallelism: 1 });
  await onConnection(ownerUrl, (client) =>
    client.query('INSERT INTO organisations (id, name, margins_asked, is_invented) VALUES ($1, $2, $3, true)', [
      organisationId,
      'Alvergate Workholding (invented)',
      JSON.stringify(MARGINS),
    ]),
  );
  await onConnection(appUrl, async (client) => {
    await asStaff(client, organisationId, 'administrator', () =>
      insertRows(client, organisationId, 'sources', sources),
    );
    await asStaff(client, organisationId, 'engineer', () => writeRows(client, organisationId, rows));
    await asStaff(client, organisationId, 'administrator', async () => {
      for (const [table, own] of Object.entries(late)) await insertRows(client, organisationId, table, own);
    });
  });
  await computeAll({ appUrl, gateUrl }, world, { organisationId, person: people[0] });
  // Last: an organisation without people is a load that was cut short, and is never shown to anybody.
  await insertPeople(ownerUrl, gateUrl, { organisationId, people, passwordHash });
  return { organisationId, logins: people.map(({ email, role, note }) => ({ email, role, note })) };
}

/** Standings of every circuit, and sizing records of a third of them, by the rules of the API itself. */
async function computeAll(urls, world, { organisationId, person }) {
  const actor = {
    sessionId: person.membershipId,
    userId: person.userId,
    membershipId: person.membershipId,
    organisationId,
    customerId: null,
    role: person.role,
    displayName: person.displayName,
  };
  const circuits = world.machines.flatMap((machine) => machine.circuits);
  await withSeeding(urls, (services) =>
    services.as(actor, async () => {
      await services.refresh(circuits.map((circuit) => circuit.id));
      for (const [index, circuit] of circuits.entries()) {
        if (index % 3 !== 0) continue;
        await services.makeSizingRecord({
          id: world.random.id(world.now),
          circuitId: circuit.id,
          basis: 'target',
          note: 'made with the demonstration',
        });
      }
    }),
  );
}
