import { execFileSync } from 'node:child_process';
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { findAreaProblems } from '@repo/launcher/areas';

const ROOT = fileURLToPath(new URL('../../', import.meta.url));

/** Every file of the project: what git knows and what it would take. */
function listFiles(...patterns: string[]): string[] {
  const args = ['ls-files', '--cached', '--others', '--exclude-standard', '--', ...patterns];
  const names = execFileSync('git', args, { cwd: ROOT, encoding: 'utf8' }).split('\n');
  return names.filter((name) => name !== '' && fs.existsSync(path.join(ROOT, name)));
}

function read(name: string): string {
  return fs.readFileSync(path.join(ROOT, name), 'utf8');
}

/** kebab-case with a role, or a name that Next, npm or TypeScript asks for. */
const FILE_NAME = /^\.?[a-z0-9]+([-.][a-z0-9]+)*$|^[A-Z]+\.md$|^Dockerfile$/;
/** Also Next's own: [machineId], (signed-in), _parts. */
const FOLDER_NAME = /^\.?[a-z0-9]+([-.][a-z0-9]+)*$|^\[[.A-Za-z]+\]$|^\([a-z-]+\)$|^[0-9]+_[a-z_]+$/;

describe('The tree', () => {
  it('has names in kebab-case', () => {
    const bad = listFiles('apps', 'packages', 'prisma', 'test').filter((name) => {
      const parts = name.split('/');
      const file = parts.pop() ?? '';
      return !FILE_NAME.test(file) || parts.some((part) => !FOLDER_NAME.test(part));
    });
    expect(bad.filter((name) => !/\/(published|data|migrations)\//.test(name))).toEqual([]);
  });

  it('names areas in one word everywhere', () => {
    expect(findAreaProblems(ROOT)).toEqual([]);
  });

  it('would notice an area that nobody listed, and a listed one that nobody uses', () => {
    const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'kedge-areas-'));
    try {
      fs.mkdirSync(path.join(folder, 'packages/config'), { recursive: true });
      fs.writeFileSync(path.join(folder, 'packages/config/areas.json'), '["machines", "ghosts"]');
      fs.mkdirSync(path.join(folder, 'apps/api/src/modules/machines'), { recursive: true });
      fs.mkdirSync(path.join(folder, 'apps/api/src/modules/machine'), { recursive: true });
      expect(findAreaProblems(folder)).toEqual([
        'apps/api/src/modules/machine: no area of that name in areas.json',
        'areas.json: "ghosts" is used nowhere',
      ]);
    } finally {
      fs.rmSync(folder, { recursive: true, force: true });
    }
  });

  it('pins every dependency to one version, and records no download host', () => {
    const loose = listFiles('package.json', '*/package.json').flatMap((name) => {
      const {
        dependencies = {},
        devDependencies = {},
        optionalDependencies = {},
      } = JSON.parse(read(name)) as Record<string, Record<string, string> | undefined>;
      const all = Object.entries({ ...dependencies, ...devDependencies, ...optionalDependencies });
      return all.filter(([dependency, version]) => {
        return dependency.startsWith('@repo/') ? version !== '*' : !/^\d+\.\d+\.\d+(-[\w.]+)?$/.test(version);
      });
    });
    expect(loose).toEqual([]);
    expect(read('package-lock.json')).not.toMatch(/"resolved": "(https?|git)/);
  });
});

interface Sequencer {
  LONGEST: readonly string[];
  default: new () => { sort: <Test>(tests: readonly Test[]) => Test[] };
}

describe('The order of tests', () => {
  it('names files that are there, and begins with them, however small they are', async () => {
    // Jest's own configuration is no package that anything builds upon.
    const file = pathToFileURL(path.join(ROOT, 'packages/config/jest-sequencer.mjs')).href;
    const { default: LongestFirst, LONGEST } = (await import(file)) as Sequencer;
    const tests = listFiles('test/**/*.test.ts', 'packages/calc/test/*.test.ts');
    for (const name of LONGEST) expect([name, tests.filter((test) => test.startsWith(name)).length]).toEqual([name, 1]);
    const inFolder = (name: string) => ({ path: path.join(ROOT, `${name}.test.ts`), context });
    const context = { hasteFS: { getSize: (file: string) => file.length * 1000 } };
    const [first = '', second = ''] = LONGEST;
    const sorted = new LongestFirst().sort(['test/api/a', second, 'test/api/longer', first].map(inFolder));
    expect(sorted.map((test) => path.relative(ROOT, test.path).replace('.test.ts', ''))).toEqual([
      ...[first, second, 'test/api/longer', 'test/api/a'],
    ]);
  });
});
