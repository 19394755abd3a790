import { spawnSync } from 'node:child_process';
import path from 'node:path';

const cli = path.join(import.meta.dirname, '../bin/calc.mjs');
const call = (args: readonly string[], input = '') => {
  const { stdout, stderr, status } = spawnSync(process.execPath, [cli, ...args], {
    input,
    encoding: 'utf8',
    maxBuffer: 1e9,
  });
  return { stdout, stderr, status };
};
const inputs = { burstPressure: { value: 1120, unit: 'bar' } };

test('one calculation: the result on standard output', () => {
  const { stdout, stderr, status } = call(['hose-rating'], JSON.stringify(inputs));
  expect([JSON.parse(stdout), stderr, status]).toEqual([
    { ratedPressure: { value: 280, unit: 'bar' }, notes: [] },
    '',
    0,
  ]);
});

test('a problem on standard error, and exit 1', () => {
  const { stdout, stderr, status } = call(['hose-rating'], '{"burstPresure":{"value":1,"unit":"bar"}}');
  expect([stdout, JSON.parse(stderr).problem.field, status]).toEqual(['', 'burstPresure', 1]);
  expect(JSON.parse(call(['nothing'], '{}').stderr).problem).toMatchObject({ field: 'id', code: 'unknown-id' });
  expect(JSON.parse(call(['hose-rating'], '{').stderr).problem.code).toBe('not-json');
});

test('lines in order, a bad line between good ones', () => {
  const good = JSON.stringify({ id: 'hose-rating', inputs });
  const { stdout, status } = call(
    ['--lines'],
    [good, 'not json', '', '[1]', 'null', '{"id":"hose-rating"}', good].join('\n'),
  );
  const answers = stdout
    .trim()
    .split('\n')
    .map((line) => JSON.parse(line));
  expect(answers.map((answer) => answer.problem?.code ?? answer.ratedPressure.value)).toEqual([
    280,
    'not-json',
    'not-json',
    'not-json',
    'not-an-object',
    280,
  ]);
  expect(status).toBe(0);
});

test('a large output arrives whole', () => {
  const line = JSON.stringify({ id: 'hose-rating', inputs });
  const { stdout } = call(['--lines'], `${line}\n`.repeat(20_000));
  expect(stdout.trim().split('\n')).toHaveLength(20_000);
});

test('the list, the usage, and the solver where it is needed', () => {
  const list = JSON.parse(call(['--list']).stdout) as {
    id: string;
    formula: string[];
    method: string[];
    sources: string[];
  }[];
  expect(list.length).toBeGreaterThan(55);
  expect(list.every(({ formula, method, sources }) => formula.length + method.length > 0 && sources.length > 0)).toBe(
    true,
  );
  expect(call([])).toMatchObject({ status: 2, stdout: '' });
  expect(call(['--help']).stdout).toContain('usage');
  const holding = {
    locators: [{ point: { value: [0, 0, 0], unit: 'mm' }, normal: [0, 0, 1], friction: 0.2 }],
    clamps: [{ point: { value: [0, 0, 50], unit: 'mm' }, direction: [0, 0, -1], force: { value: 1, unit: 'kN' } }],
    loads: [{ force: { value: [100, 0, 0], unit: 'N' }, point: { value: [0, 0, 0], unit: 'mm' } }],
    safetyFactor: 1,
  };
  expect(JSON.parse(call(['holding-force'], JSON.stringify(holding)).stdout).scale).toBeCloseTo(0.5, 6);
});
