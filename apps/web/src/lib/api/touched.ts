import { routes, type Route } from '@repo/contracts';

type Noun = keyof typeof routes;

/** Reads that hold how circuits stand: whatever enters a circuit's proofs changes them. */
const STANDING = ['standings', 'machines', 'circuits', 'sizingRecords', 'customers', 'operations', 'fixtures'] as const;

/**
 * What a change of a noun touches beside its own reads. A noun that is shown by name or counted elsewhere touches where it is shown.
 * Every noun of the contract stands here: a new one does not compile until somebody has thought of it.
 */
const TOUCHED: Readonly<Record<Noun, readonly Noun[]>> = {
  // Of accounts and people.
  users: ['memberships', 'invitations'],
  authenticators: ['users'],
  passkeys: ['users'],
  memberships: ['users', 'issues', 'invitations'],
  invitations: ['users', 'memberships'],
  apiKeys: [],
  identityProviders: [],
  organisations: ['users', ...STANDING],
  signInPolicies: ['users'],
  // Of what is installed and how it is set.
  customers: ['sites', 'machines', 'circuits', 'standings', 'fixtures', 'issues', 'memberships'],
  sites: ['customers', 'machines', 'circuits', 'standings', 'issues', 'sources'],
  machines: [...STANDING, 'sites', 'issues', 'sources', 'fixtureFittings'],
  powerUnits: STANDING,
  circuits: [...STANDING, 'powerUnits', 'issues', 'alarmCounts', 'wires'],
  standings: [],
  componentTypes: [...STANDING, 'installedComponents', 'serviceEvents'],
  installedComponents: [...STANDING, 'componentTypes', 'wires', 'serviceEvents'],
  mCodes: STANDING,
  signals: [...STANDING, 'wires', 'mCodes'],
  wires: [...STANDING, 'signals'],
  fixtures: [...STANDING, 'fixtureFittings'],
  fixtureFittings: STANDING,
  operations: STANDING,
  targetSettings: STANDING,
  setupRecords: STANDING,
  sizingRecords: ['machines', 'circuits'],
  // Of what happens.
  issues: ['machines', 'standings'],
  serviceEvents: [],
  sources: ['findings', 'alarmCounts'],
  findings: ['sources', 'alarmCounts', 'issues'],
  alarmRules: ['alarmCounts', 'issues', 'standings'],
  alarmCounts: ['issues', 'standings'],
  // Of work in the background: what a job did is read again when it is over.
  jobs: ['imports', 'exports'],
  imports: ['jobs'],
  exports: ['jobs'],
  auditEntries: [],
  calculations: [],
};

const NOUN_OF = new Map(
  Object.entries(routes).flatMap(([noun, ofNoun]) =>
    Object.values<Route>(ofNoun).map((route): [string, Noun] => [route.id, noun as Noun]),
  ),
);

/** Whether a change by one route makes what another one read worth reading again. Every change is an entry of the audit trail. */
export function isTouched(changed: Route, readId: unknown): boolean {
  const [from, to] = [NOUN_OF.get(changed.id), NOUN_OF.get(String(readId))];
  if (from === undefined || to === undefined) return false;
  return from === to || to === 'auditEntries' || TOUCHED[from].includes(to);
}
