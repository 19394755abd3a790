import { allRoutes, ROLES, type Route } from '@repo/contracts';
import { uuidv7 } from 'uuidv7';
import { BODIES, type Owned } from './support/walk.js';

/** Fields that decide whose a record is, who may do what, or what has happened: nobody writes them by sending them. */
const FOREIGN = [
  'organisationId',
  'customerId',
  'userId',
  'membershipId',
  'role',
  'version',
  'createdAt',
  'archivedAt',
  'acceptedAt',
  'recordedBy',
  'requestedBy',
  'isInvented',
  'state',
  'tokenHash',
  'passwordHash',
  'number',
];

/** Any record at all: only shapes are asked here. */
const anyone = new Proxy({} as Owned, { get: () => uuidv7() });

type WithBody = Route & { body: NonNullable<Route['body']> };
const withBody = allRoutes.filter((route): route is WithBody => route.body !== undefined);

/** Names at the top of a body's shape, whichever of its forms. */
function namesOf(schema: unknown): string[] {
  const { def } = schema as {
    def: { type: string; shape?: object; innerType?: unknown; in?: unknown; options?: unknown[] };
  };
  if (def.shape !== undefined) return Object.keys(def.shape);
  return [def.innerType, def.in, ...(def.options ?? [])].filter((one) => one !== undefined).flatMap(namesOf);
}

describe('every route with a body, and every field that is not its own', () => {
  it.each(withBody.map((route) => [`${route.method} ${route.path}`, route] as const))('%s', (_name, route) => {
    const right = BODIES[route.id]?.(anyone);
    if (right === undefined) throw new Error(`the walk has no body for ${route.id}`);
    const parsed = route.body.safeParse(right);
    expect([route.id, parsed.success ? [] : parsed.error.issues]).toEqual([route.id, []]);
    // A calculation's inputs are named by the calculation; it refuses what it does not know by itself.
    if (route.id === 'calculate') return;
    // A delivery is signed by its sender; CloudEvents lets it carry attributes of its own, which are not read.
    if (route.id === 'deliverAlarmCounts') return;
    const ownFields = namesOf(route.body);
    for (const field of FOREIGN.filter((name) => !ownFields.includes(name))) {
      const refused = route.body.safeParse({ ...right, [field]: uuidv7() });
      const issues = refused.success ? [] : refused.error.issues;
      const named = issues.flatMap((issue) => (issue.code === 'unrecognized_keys' ? issue.keys : []));
      expect([route.id, field, named]).toEqual([route.id, field, [field]]);
    }
  });

  it('routes that change something name their roles one by one, or ask for the person', () => {
    for (const { id, method, access } of allRoutes) {
      if (method === 'GET' || typeof access === 'string') continue;
      expect([id, access.every((role) => ROLES.includes(role))]).toEqual([id, true]);
    }
  });
});
