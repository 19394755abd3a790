import fs from 'node:fs';
import path from 'node:path';

/** Where an area may have a folder or a file of its name. */
const PLACES = ['apps/api/src/modules', 'apps/web/src/features', 'packages/contracts/src', 'prisma/schema', 'test/api'];

/** Here a file of its own is about several areas at once; a folder is one area's. */
const FOLDERS_ONLY = new Set(['test/api']);

/** Names in those places that are no area, with the reason. */
const NO_AREA = new Map([
  ['packages/contracts/src', ['common', 'index', 'routes']],
  ['prisma/schema', ['schema', 'platform']],
]);

/**
 * One word, five places: whatever lives in one of them is named after an area of packages/config/areas.json.
 * @param {string} root
 * @returns {string[]} one sentence per problem
 */
export function findAreaProblems(root) {
  /** @type {string[]} */
  const areas = JSON.parse(fs.readFileSync(path.join(root, 'packages', 'config', 'areas.json'), 'utf8'));
  const known = new Set(areas);
  /** @type {Set<string>} */
  const used = new Set();
  const strangers = PLACES.flatMap((place) => {
    const others = new Set(NO_AREA.get(place) ?? []);
    const names = listNames(path.join(root, place), FOLDERS_ONLY.has(place)).filter((name) => !others.has(name));
    for (const name of names) used.add(name);
    return names
      .filter((name) => !known.has(name))
      .map((name) => `${place}/${name}: no area of that name in areas.json`);
  });
  const unused = areas.filter((area) => !used.has(area)).map((area) => `areas.json: "${area}" is used nowhere`);
  return [...strangers, ...unused];
}

/**
 * Names of folders and files without their endings; `visits.prisma` and `visits/` are both `visits`.
 * @param {string} folder
 * @param {boolean} isFoldersOnly
 * @returns {string[]}
 */
function listNames(folder, isFoldersOnly) {
  if (!fs.existsSync(folder)) return [];
  const entries = fs
    .readdirSync(folder, { withFileTypes: true })
    .filter((entry) => !isFoldersOnly || entry.isDirectory());
  const names = entries.map(({ name }) => name).filter((name) => !name.startsWith('.'));
  return [...new Set(names.map((name) => name.replace(/[.].*$/, '')))];
}
