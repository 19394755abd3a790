/**
 * Which test files are begun first, so that no worker is left with a long one while the others have nothing to do. Jest goes by how
 * long each took the last time; on a fresh clone it knows no last time and goes by the size of the file, and some that take longest are short.
 */

/** Those that take longest, the longest first. */
export const LONGEST = [
  'test/web/every-form',
  'test/api/exports',
  'test/web/reading',
  'test/web/every-figure',
  'test/api/dependencies',
  'test/api/jobs',
  'test/web/imports',
  'test/web/first-day',
  'test/web/script-budget',
  'test/imports/corpus',
  'test/web/copies',
  'test/web/sources',
  'test/api/unreadable-lists',
  'test/tenancy/strangers',
  'test/web/accounts',
  'test/imports/samples',
  'test/web/journeys',
  'test/web/drafts',
  'test/web/machine-sections',
  'test/imports/round-trip',
  'test/web/broken-connection',
  'test/api/way-out',
  'test/api/ingest-drill',
  'test/launcher/backup',
  'test/launcher/start.test',
  'packages/calc/test/way-out-none',
  'packages/calc/test/way-out.test',
];

/**
 * @typedef {object} Test
 * @property {string} path
 * @property {{ hasteFS: { getSize(path: string): number | null } }} context
 */

export default class LongestFirst {
  /**
   * @param {Test[]} tests
   * @returns {Test[]}
   */
  sort(tests) {
    /** @param {Test} test */
    const rankOf = ({ path }) => {
      const rank = LONGEST.findIndex((name) => path.replaceAll('\\', '/').includes(`/${name}`));
      return rank === -1 ? LONGEST.length : rank;
    };
    /** @param {Test} test */
    const sizeOf = ({ path, context }) => context.hasteFS.getSize(path) ?? 0;
    return [...tests].sort((one, other) => rankOf(one) - rankOf(other) || sizeOf(other) - sizeOf(one));
  }

  /** Nothing is kept from one run to the next: each run takes the files in the same order. */
  allFailedTests() {
    return [];
  }

  cacheResults() {}
}
