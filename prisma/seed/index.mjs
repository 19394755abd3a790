import { hash } from '@node-rs/argon2';
import { withSeeding } from '@repo/api/seeding';
import { USUAL_MARGINS } from '@repo/calc/checks';
import pg from 'pg';
import { addComputedCut } from './computed-cut.mjs';
import { buildCustomers } from './customers.mjs';
import { buildLibrary } from './library.mjs';
import { need } from './need.mjs';
import { createRandom } from './random.mjs';
import { buildScenario } from './scenario.mjs';
import { buildAlarmCounts } from './alarm-counts.mjs';
import { asStaff, emptyRows, insertRows, writeTables } from './write.mjs';

/** @typedef {import('@repo/contracts').Role} Role */
/** @typedef {import('./world.types.js').World} World */
/** @typedef {{ email: string, role: Role, note: string, displayName: string, userId: string, membershipId: string, customerId: string | null }} Person */

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

/**
 * Who can sign in to the demonstration. An engineer comes first: whatever is recorded, that one has recorded.
 * @type {readonly { mail: string, role: Role, displayName: string, note: string, customer?: number }[]}
 */
const PEOPLE = [
  { mail: 'engineer', role: 'engineer', displayName: 'Ines Tavoa', note: 'sizes circuits, releases settings' },
  { mail: 'installer', role: 'installer', displayName: 'Rui Calvane', note: 'enters what was fitted and measured' },
  { mail: 'lead', role: 'lead', displayName: 'Marta Osorde', note: 'sees what needs a visit' },
  { mail: 'admin', role: 'administrator', displayName: 'Xoel Brandes', note: 'people and margins' },
  {
    mail: 'viewer',
    role: 'viewer',
    displayName: 'Lidia Varzelo',
    note: 'customer: sees the machines of Varzelo Pump Housings',
    customer: 0,
  },
  {
    mail: 'viewer2',
    role: 'viewer',
    displayName: 'Breixo Ledrado',
    note: 'customer: sees the machines of Ledrado Valve Bodies',
    customer: 1,
  },
];

/**
 * @template Result
 * @param {string} url
 * @param {(client: pg.Client) => Promise<Result>} work
 * @returns {Promise<Result>}
 */
async function onConnection(url, work) {
  const client = new pg.Client({ connectionString: url });
  await client.connect();
  try {
    return await work(client);
  } finally {
    await client.end();
  }
}

/**
 * People and their sign-ins: written by the owner, since nobody can sign in yet.
 * @param {string} ownerUrl
 * @param {string} gateUrl
 * @param {object} input
 * @param {string} input.organisationId
 * @param {readonly Person[]} input.people
 * @param {string} input.passwordHash
 */
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
 * The scenario is the same every time but for its dates, which count back from `now`. Throws when a row is refused.
 * @param {object} input
 * @param {string} input.ownerUrl
 * @param {string} input.appUrl
 * @param {string} input.gateUrl
 * @param {string} input.password of every login
 * @param {Date} [input.now]
 * @returns {Promise<{ organisationId: string, logins: Pick<Person, 'email' | 'role' | 'note'>[] }>}
 */
export async function loadDemo({ ownerUrl, appUrl, gateUrl, password, now = new Date() }) {
  const random = createRandom(SEED);
  const began = new Date(now.getTime() - 740 * DAY);
  const organisationId = random.id(began);
  const { customers, sites } = buildCustomers(random, began);
  const people = PEOPLE.map(({ mail, customer, ...person }) => ({
    ...person,
    email: `${mail}@demo.example`,
    userId: random.id(began),
    membershipId: random.id(began),
    customerId: customer === undefined ? null : need(customers[customer], 'the customer of a viewer').id,
  }));
  const author = need(people[0], 'an engineer');
  const engineer = { id: author.membershipId, display_name: author.displayName };
  const library = buildLibrary(random, began);
  const rows = emptyRows();
  /** @type {World} */
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
    await asStaff(client, organisationId, 'engineer', () => writeTables(client, organisationId, rows));
    await asStaff(client, organisationId, 'administrator', () => writeTables(client, organisationId, late));
  });
  await computeAll({ appUrl, gateUrl }, world, { organisationId, person: author });
  // Last: an organisation without people is a load that was cut short, and is never shown to anybody.
  await insertPeople(ownerUrl, gateUrl, { organisationId, people, passwordHash });
  return { organisationId, logins: people.map(({ email, role, note }) => ({ email, role, note })) };
}

/**
 * Standings of every circuit, and sizing records of a third of them, by the rules of the API itself.
 * @param {{ appUrl: string, gateUrl: string }} urls
 * @param {World} world
 * @param {{ organisationId: string, person: Person }} as
 */
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
