import { spawnSync } from 'node:child_process';
import fs from 'node:fs';
import { createRequire } from 'node:module';
import os from 'node:os';
import path from 'node:path';
import { fileURLToPath } from 'node:url';

const ROOT = fileURLToPath(new URL('../../', import.meta.url));
const RULES = path.join(ROOT, 'packages/config/dependency-rules.cjs');

interface Violation {
  rule: { name: string };
  from: string;
  to: string;
}

/** A small tree in which every line is allowed: the rules have nothing to say about it. */
const SOUND: Record<string, string> = {
  'package.json':
    '{ "name": "planted", "private": true, "dependencies": { "zod": "1.0.0", "pg": "1.0.0", "fastify": "1.0.0" } }',
  'node_modules/zod/package.json': '{ "name": "zod", "version": "1.0.0", "main": "index.js" }',
  'node_modules/zod/index.js': 'module.exports = {};',
  'node_modules/pg/package.json': '{ "name": "pg", "version": "1.0.0", "main": "index.js" }',
  'node_modules/pg/index.js': 'module.exports = {};',
  'node_modules/fastify/package.json': '{ "name": "fastify", "version": "1.0.0", "main": "index.js" }',
  'node_modules/fastify/index.js': 'module.exports = {};',
  'node_modules/undeclared/package.json': '{ "name": "undeclared", "version": "1.0.0", "main": "index.js" }',
  'node_modules/undeclared/index.js': 'module.exports = {};',
  'packages/quantity/src/index.ts': 'export const one = 1;',
  'packages/calc/src/index.ts': `import { one } from '../../quantity/src/index.js'; export type Input = { a: number }; export const two = one + 1;`,
  'packages/drawing/src/index.ts': `import { one } from '../../quantity/src/index.js'; export const line = one;`,
  'packages/contracts/src/index.ts': `import 'zod'; import type { Input } from '../../calc/src/index.js'; export type Body = Input;`,
  'packages/launcher/src/index.ts': 'export const start = 1;',
  'apps/api/src/platform/db/index.ts': `import 'pg'; export const db = 1;`,
  'apps/api/src/modules/machines/index.ts': `export { MachinesService } from './machines.service.js';`,
  'apps/api/src/modules/machines/machines.controller.ts': `import { MachinesService } from './machines.service.js'; export const c = MachinesService;`,
  'apps/api/src/modules/machines/machines.service.ts': `import { rows } from './machines.repository.js'; export const MachinesService = rows;`,
  'apps/api/src/modules/machines/station-rules.ts': 'export const rule = 1;',
  'apps/api/src/modules/machines/machines.repository.ts': `import { db } from '../../platform/db/index.js'; export const rows = db;`,
  'apps/api/src/modules/visits/visits.service.ts': `import { MachinesService } from '../machines/index.js'; export const v = MachinesService;`,
  'apps/web/src/ui/card.ts': 'export const card = 1;',
  'apps/web/src/features/machines/index.ts': `export { list } from './list.js';`,
  'apps/web/src/features/machines/list.ts': `import { card } from '@/ui/card'; export const list = card;`,
  'apps/web/src/features/visits/list.ts': 'export const list = 1;',
  'apps/web/src/app/machines/page.ts': `import { list } from '../../features/machines/index.js'; export const page = list;`,
  'test/support/clock.ts': 'export const clock = 1;',
};

/** One planted violation per rule: a file, and what it imports that it must not. */
const PLANTED: { rule: string; file: string; imports: string }[] = [
  { rule: 'no-cycles', file: 'packages/launcher/src/a.ts', imports: './b.js' },
  { rule: 'quantity-depends-on-nothing', file: 'packages/quantity/src/planted.ts', imports: '../../calc/src/index.js' },
  { rule: 'calc-depends-on-nothing', file: 'packages/calc/src/planted.ts', imports: 'node:fs' },
  {
    rule: 'drawing-depends-on-quantity-only',
    file: 'packages/drawing/src/planted.ts',
    imports: '../../calc/src/index.js',
  },
  { rule: 'contracts-depend-on-zod-only', file: 'packages/contracts/src/planted.ts', imports: 'fastify' },
  {
    rule: 'contracts-take-only-types-from-calc',
    file: 'packages/contracts/src/values.ts',
    imports: '../../calc/src/index.js',
  },
  { rule: 'web-never-sees-api-or-database', file: 'apps/web/src/lib/planted.ts', imports: 'pg' },
  { rule: 'api-never-sees-web', file: 'apps/api/src/planted.ts', imports: '../../web/src/ui/card.js' },
  {
    rule: 'product-never-starts-itself',
    file: 'apps/api/src/starts.ts',
    imports: '../../../packages/launcher/src/index.js',
  },
  {
    rule: 'platform-knows-no-domain',
    file: 'apps/api/src/platform/planted.ts',
    imports: '../modules/machines/index.js',
  },
  {
    rule: 'modules-meet-at-the-index',
    file: 'apps/api/src/modules/visits/planted.ts',
    imports: '../machines/machines.service.js',
  },
  {
    rule: 'only-repositories-touch-the-database',
    file: 'apps/api/src/modules/visits/queries.ts',
    imports: '../../platform/db/index.js',
  },
  {
    rule: 'repositories-call-no-rule',
    file: 'apps/api/src/modules/machines/calling.repository.ts',
    imports: './machines.service.js',
  },
  {
    rule: 'repositories-call-no-rule',
    file: 'apps/api/src/modules/machines/judging.repository.ts',
    imports: './station-rules.js',
  },
  {
    rule: 'repositories-call-no-rule',
    file: 'apps/api/src/modules/visits/asking.repository.ts',
    imports: '../machines/index.js',
  },
  {
    rule: 'controllers-skip-no-layer',
    file: 'apps/api/src/modules/machines/other.controller.ts',
    imports: './machines.repository.js',
  },
  { rule: 'services-know-no-http', file: 'apps/api/src/modules/visits/http.service.ts', imports: 'fastify' },
  {
    rule: 'features-do-not-meet',
    file: 'apps/web/src/features/visits/planted.ts',
    imports: '@/features/machines/list',
  },
  {
    rule: 'pages-use-the-feature-index',
    file: 'apps/web/src/app/visits/page.ts',
    imports: '../../features/visits/list.js',
  },
  { rule: 'ui-knows-no-domain', file: 'apps/web/src/ui/planted.ts', imports: '../features/machines/index.js' },
  { rule: 'no-undeclared-package', file: 'apps/api/src/undeclared.ts', imports: 'undeclared' },
  { rule: 'no-unresolvable', file: 'apps/api/src/nowhere.ts', imports: './nowhere-at-all.js' },
  {
    rule: 'no-test-code-in-product',
    file: 'packages/launcher/src/planted.ts',
    imports: '../../../test/support/clock.js',
  },
];

function write(folder: string, files: Record<string, string>): void {
  for (const [name, text] of Object.entries(files)) {
    fs.mkdirSync(path.dirname(path.join(folder, name)), { recursive: true });
    fs.writeFileSync(path.join(folder, name), text);
  }
}

function findViolations(folder: string): Violation[] {
  const cli = path.join(ROOT, 'node_modules/dependency-cruiser/bin/dependency-cruise.mjs');
  const args = [cli, '--config', RULES, '--output-type', 'json', 'apps', 'packages', 'test'];
  const result = spawnSync(process.execPath, args, { cwd: folder, encoding: 'utf8' });
  if (result.stdout === '') throw new Error(result.stderr);
  return (JSON.parse(result.stdout) as { summary: { violations: Violation[] } }).summary.violations;
}

describe('The arrows between rooms', () => {
  let folder: string;

  beforeEach(() => {
    folder = fs.mkdtempSync(path.join(os.tmpdir(), 'kedge-arrows-'));
    write(folder, SOUND);
  });

  afterEach(() => fs.rmSync(folder, { recursive: true, force: true }));

  it('let pass what the design allows', () => {
    expect(findViolations(folder)).toEqual([]);
  });

  it('are each held by a rule that reports its planted violation', () => {
    const extra = { 'packages/launcher/src/b.ts': `import './a.js';` };
    write(folder, {
      ...extra,
      ...Object.fromEntries(PLANTED.map(({ file, imports }) => [file, `import '${imports}';`])),
    });
    const found = findViolations(folder);
    for (const { rule, file } of PLANTED) {
      expect(found).toContainEqual(
        expect.objectContaining({ rule: expect.objectContaining({ name: rule }) as object, from: file }),
      );
    }
  });

  it('have no rule without a planted violation', () => {
    const { forbidden } = createRequire(import.meta.url)(RULES) as { forbidden: { name: string }[] };
    const planted = [...new Set(PLANTED.map(({ rule }) => rule))];
    expect(forbidden.map(({ name }) => name).sort()).toEqual(planted.sort());
  });
});
