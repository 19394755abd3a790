/**
 * What every file of a worker shares: loaded by Node itself, not by Jest for each file. A class of the application that a test asks for must
 * come from here as well, or it is another one.
 */
const { loadShared, sharedDate, sharedKept } = globalThis as unknown as {
  loadShared<T>(specifier: string): Promise<T>;
  sharedDate: DateConstructor;
  sharedKept: Map<string, string>;
};

const [app, compute, env, issues, seeding, storedDocuments, worker, tester, browser, axe] = await Promise.all([
  loadShared<typeof import('@repo/api/app')>('@repo/api/app'),
  loadShared<typeof import('@repo/api/compute')>('@repo/api/compute'),
  loadShared<typeof import('@repo/api/env')>('@repo/api/env'),
  loadShared<typeof import('@repo/api/issues')>('@repo/api/issues'),
  loadShared<typeof import('@repo/api/seeding')>('@repo/api/seeding'),
  loadShared<typeof import('@repo/api/stored-documents')>('@repo/api/stored-documents'),
  loadShared<typeof import('@repo/api/worker')>('@repo/api/worker'),
  loadShared<{ default: typeof import('supertest') }>('supertest'),
  loadShared<typeof import('playwright-core')>('playwright-core'),
  loadShared<{ default: typeof import('axe-core') }>('axe-core/axe.min.js'),
]);

/** By which the application reads the time: a test's own is another one. */
export const clock: Pick<DateConstructor, 'now'> = sharedDate;
/** Texts that a file leaves for the later ones of its worker. */
export const kept = sharedKept;
export const { createApp } = app;
export const { Askers, ComputePool } = compute;
export const { readEnv } = env;
export const { IssueDoor } = issues;
export type IssueDoor = InstanceType<typeof IssueDoor>;
export const { withSeeding } = seeding;
export const { documentOf, storedColumns } = storedDocuments;
export const { createWorker } = worker;
export const request = tester.default;
export const { chromium } = browser;
/** The checker of barriers as a page takes it: the short one, of which a browser has half as much to read. */
export const axeSource = axe.default.source;
