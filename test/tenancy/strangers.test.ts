import { allRoutes, CUSTOMER_ROLES, ROLES, STAFF_ROLES, type Route } from '@repo/contracts';
import { uuidv7 } from 'uuidv7';
import { addPerson, anOrganisation, type Organisation } from '../builders/world.js';
import { startApi, type TestApi, type TestClient } from '../support/api.js';
import { buildOwned } from './support/build-owned.js';
import { BODIES, nobody, OWNERLESS, PATH_IDS, QUERIES, type Owned } from './support/walk.js';

let api: TestApi;
let home: Organisation;
let ownRecords: Owned;
let otherCustomer: Owned;
let otherOrganisation: Owned;
const clients = new Map<string, TestClient>();

beforeAll(async () => {
  api = await startApi();
  home = await anOrganisation(api, 'Home');
  const away = await anOrganisation(api, 'Away');
  ownRecords = await buildOwned(api, home, 'W');
  otherCustomer = await buildOwned(api, home, 'N');
  otherOrganisation = await buildOwned(api, away, 'T');
  await addPerson(api, home, 'viewer', 'viewer', ownRecords.customerId);
  await addPerson(api, home, 'customer-administrator', 'customer-administrator', ownRecords.customerId);
  for (const role of ROLES) clients.set(role, await api.as(home.emails[role]));
  clients.set('nobody', await api.as());
});
afterAll(() => api.stop());

async function ask(route: Route, who: string, about: Owned) {
  const pathId = PATH_IDS.find(([pattern]) => pattern.test(route.path))?.[1];
  if (route.path.includes('{id}') && pathId === undefined) throw new Error(`the walk does not know ${route.path}`);
  const path =
    route.path
      .replace('{id}', pathId?.(about) ?? '')
      .replace('{table}', 'customers')
      .replace('{sessionId}', about.memberSessionId) + (QUERIES[route.id]?.(about) ?? '');
  const body = BODIES[route.id];
  if (route.body !== undefined && body === undefined) throw new Error(`the walk has no body for ${route.id}`);
  const headers = {
    ...(route.ifMatch === true ? { 'if-match': '"v1"' } : {}),
    ...(route.idempotent === true ? { 'idempotency-key': `"${uuidv7()}"` } : {}),
  };
  const client = clients.get(who);
  if (client === undefined) throw new Error(`nobody is ${who}`);
  if (route.upload === true) {
    const bytes = { ...headers, 'content-type': 'application/octet-stream' };
    return client.call(route.method, path, bytes, Buffer.from('Customer\nWalk\n'));
  }
  return client.call(route.method, path, headers, body?.(about));
}

/** What a stranger can tell from an answer. */
const visible = (response: { status: number; body: Record<string, unknown> }) => {
  const { requestId: _request, instance: _instance, ...rest } = response.body;
  return { status: response.status, body: rest };
};

/** Names under which something secret would stand. */
const SECRET = /(token|password|secret|code)Hash|sealed|secret$|token$|password/i;
/** What shows a secret on purpose, this once. */
const SHOWS_SECRET = new Set([
  'createSource',
  'rotateSourceSecret',
  'createApiKey',
  'rotateApiKeySecret',
  'createInvitation',
  'createMembershipInvitation',
  'renewInvitation',
  'proposeAuthenticator',
]);
const secretNamesIn = (value: unknown): string[] =>
  typeof value === 'object' && value !== null
    ? Object.entries(value).flatMap(([name, inner]) => [...(SECRET.test(name) ? [name] : []), ...secretNamesIn(inner)])
    : [];

const mayCall = (route: Route, role: string): boolean =>
  route.access === 'public' || route.access === 'person' || (route.access as readonly string[]).includes(role);
const leavesRunning = (route: Route): boolean => route.id !== 'endCurrentSession';

describe('every route as every role', () => {
  it.each(allRoutes.map((route) => [`${route.method} ${route.path}`, route] as const))('%s', async (_name, route) => {
    if (route.access !== 'public') {
      const signedOut = await ask(route, 'nobody', ownRecords);
      expect([signedOut.status, signedOut.body.code]).toEqual([401, 'session.needed']);
    }
    let isGone = false;
    for (const role of ROLES.filter(() => leavesRunning(route))) {
      if (!mayCall(route, role)) {
        const refused = await ask(route, role, ownRecords);
        expect([role, refused.status, refused.body.code]).toEqual([role, 403, 'session.role']);
        continue;
      }
      if (OWNERLESS.has(route.id)) {
        const answer = await ask(route, role, ownRecords);
        if (!SHOWS_SECRET.has(route.id)) expect([role, secretNamesIn(answer.body)]).toEqual([role, []]);
        expect([role, answer.status < 500 || answer.text]).toEqual([role, true]);
        const isRefused = [401, 403].includes(answer.status) && !/_wrong$/.test(answer.body.code);
        expect(isRefused && route.access !== 'public').toBe(false);
        continue;
      }
      // Not yours answers exactly like not there: to everybody for another organisation, to customers for another customer.
      const unknown = visible(await ask(route, role, nobody()));
      expect(visible(await ask(route, role, otherOrganisation))).toEqual(unknown);
      if (CUSTOMER_ROLES.some((one) => one === role)) {
        expect(visible(await ask(route, role, otherCustomer))).toEqual(unknown);
      }
      const isList = route.path.includes('{id}') === false && route.method === 'GET';
      expect([role, unknown.status]).toEqual([role, isList ? 200 : 404]);
      const answer = await ask(route, role, ownRecords);
      if (!SHOWS_SECRET.has(route.id)) expect([role, secretNamesIn(answer.body)]).toEqual([role, []]);
      // What one role has taken away is not there for the next.
      if (isGone) expect([role, answer.status]).toEqual([role, 404]);
      else expect([role, answer.status, answer.body.code]).not.toEqual([role, 404, 'request.not_found']);
      isGone ||= route.method === 'DELETE' && answer.status === 204;
      expect(answer.status).toBeLessThan(500);
      expect([401, 403]).not.toContain(answer.status);
    }
  });

  it('every route of the description is walked, and every walked route is described', async () => {
    const { body } = await (clients.get('nobody') as TestClient).get('/openapi.json').expect(200);
    const described = Object.entries(body.paths as Record<string, Record<string, { operationId: string }>>).flatMap(
      ([path, methods]) =>
        Object.entries(methods).map(
          ([method, operation]) => `${operation.operationId} ${method.toUpperCase()} ${path}`,
        ),
    );
    expect(described.sort()).toEqual(
      allRoutes.map((route) => `${route.id} ${route.method} /api/v1${route.path}`).sort(),
    );
    expect(new Set(allRoutes.map((route) => route.id)).size).toBe(allRoutes.length);
  });

  it('a right that is taken away is gone with the next request', async () => {
    await addPerson(api, home, 'leaver', 'lead', null);
    const leaver = await api.as(home.emails.leaver);
    await leaver.get('/customers').expect(200);
    const administrator = clients.get('administrator') as TestClient;
    await administrator.patch(`/memberships/${home.memberships.leaver}`, 1, { role: 'installer' }).expect(200);
    await leaver.get('/audit-entries').expect(403);
    await administrator.patch(`/memberships/${home.memberships.leaver}`, 2, { archived: true }).expect(200);
    await leaver.get('/customers').expect(401);
    expect(STAFF_ROLES).toContain('lead');
  });
});
