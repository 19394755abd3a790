import { readFileSync } from 'node:fs';
import path from 'node:path';
import { once } from 'node:events';
import { Worker } from 'node:worker_threads';
import { cornersOf } from '../scripts/corners.mjs';
import type { CheckFile } from '../scripts/check-row.mjs';
import { CALCULATIONS, describeCalculation, findCalculation } from '../src/registry/registry.js';

/** What may run where others wait. */
const QUICK_MS = 20;
/** Whatever a calculation is given, it has ended by then, on a machine that has other things to do. */
const LONGEST_MS = 60_000;

interface Answer {
  tookMs: number;
  problem: string | null;
}

const { rows } = JSON.parse(readFileSync(path.join(import.meta.dirname, 'data/checks.json'), 'utf8')) as CheckFile;

let thread: Promise<Worker> | null = null;
const begin = async (): Promise<Worker> => {
  const begun = new Worker(new URL('../scripts/corner-thread.mjs', import.meta.url));
  await once(begun, 'message');
  return begun;
};
afterAll(async () => (await thread)?.terminate());

/** Calculates in a thread; one that does not end is stopped, and has taken for ever. */
async function time(id: string, inputs: unknown): Promise<Answer> {
  thread ??= begin();
  const worker = await thread;
  let timer: NodeJS.Timeout | undefined;
  const late = new Promise<null>((resolve) => {
    timer = setTimeout(() => resolve(null), LONGEST_MS);
  });
  worker.postMessage({ id, inputs });
  const answer = await Promise.race([once(worker, 'message').then(([message]) => message as Answer), late]);
  clearTimeout(timer);
  if (answer !== null) return answer;
  await worker.terminate();
  thread = null;
  return { tookMs: Infinity, problem: null };
}

/** The least of several: what the machine does beside it is not the calculation's. */
async function timeQuick(id: string, inputs: unknown): Promise<number> {
  let least = Infinity;
  for (let round = 0; round < 20 && least > QUICK_MS; round += 1) {
    const { tookMs } = await time(id, inputs);
    if (tookMs === Infinity) return tookMs;
    least = Math.min(least, tookMs);
  }
  return least;
}

const samplesOf = (id: string): Record<string, unknown>[] =>
  rows.filter((row) => row.calculation === id && row.expected).map((row) => row.inputs);

describe.each(CALCULATIONS.map((entry) => ({ id: entry.id, entry })))('$id at its corners', ({ id, entry }) => {
  const limitMs = entry.isQuick ? QUICK_MS : LONGEST_MS;

  test(`ends within ${limitMs} ms`, async () => {
    const slow: { tookMs: number; inputs: string }[] = [];
    let results = 0;
    for (const inputs of cornersOf(describeCalculation(entry), samplesOf(id), entry.isQuick ? 120 : 24)) {
      const first = await time(id, inputs);
      if (first.problem === null) results += 1;
      const tookMs = first.tookMs > limitMs && entry.isQuick ? await timeQuick(id, inputs) : first.tookMs;
      if (tookMs > limitMs) slow.push({ tookMs, inputs: JSON.stringify(inputs).slice(0, 400) });
    }
    expect(slow).toEqual([]);
    expect(results).toBeGreaterThan(0);
  }, 120_000);
});

describe('inputs that took minutes, or for ever', () => {
  const MPA = (value: number) => ({ value, unit: 'MPa' });
  test.each([
    ['normal-cusum-arl', { k: 0.5, h: 4, shift: 1e12 }, null],
    ['normal-cusum-arl', { k: 1e12, h: 4 }, 'no-result'],
    ['ewma-arl', { lambda: 0.2, limit: 2.3, shift: 1e12 }, null],
    ['count-cusum-arl', { k: 1e12, h: 6, mean: 1 }, 'too-many'],
    ['count-cusum-arl', { k: 1, h: 6, mean: 1e12 }, 'too-many'],
    ['count-cusum-arl', { k: 1.001, h: 3.999, mean: 1, inControlMean: 0.5, outOfControlMean: 3 }, 'too-many'],
    ['count-cusum-design', { inControlMean: 1, outOfControlMean: 1e12, targetArl0: 500 }, 'too-many'],
    ['count-cusum-design', { inControlMean: 0.5, outOfControlMean: 0.6, targetArl0: 1e12, step: 0.001 }, 'too-many'],
    ['count-rate-interval', { events: 1e12, exposure: 1 }, null],
    ['gamma-poisson', { priorShape: 1e12, priorExposure: 1, events: 1e12, exposure: 1 }, null],
  ])('%s of %j', async (id, inputs, problem) => {
    const answer = await time(id, inputs);
    expect(answer.problem).toBe(problem);
    expect(answer.tookMs).toBeLessThan(5_000);
  });

  test.each([
    ['normal-cusum-arl', { k: 0.5, h: 245, shift: 0.1 }],
    ['ewma-arl', { lambda: 0.01, limit: 34.4, shift: 0.1 }],
    ['count-cusum-arl', { k: 150, h: 3999, mean: 152, inControlMean: 151 }],
  ])('the longest %s that is taken: %j', async (id, inputs) => {
    const answer = await time(id, inputs);
    expect(answer.problem).toBeNull();
    expect(answer.tookMs).toBeLessThan(LONGEST_MS);
  });

  test('a pressure that is there already takes no time, with air too; one whose integral cannot be found is refused', () => {
    const base = {
      volume: { value: 1, unit: 'L' },
      bulkModulus: MPA(1600),
      freeFlow: { value: 1, unit: 'L/min' },
      stallPressure: MPA(20),
      airFraction: 0.2,
      polytropic: 1,
    };
    const { result } = findCalculation('pressurise-time')?.run({ ...base, targetPressure: MPA(0) }, {}) ?? {};
    expect(result?.time).toEqual({ value: 0, unit: 's' });
    const { problem } =
      findCalculation('pressurise-time')?.run(
        { ...base, targetPressure: MPA(1), airFraction: 1, polytropic: 1e-12 },
        {},
      ) ?? {};
    expect(problem).toMatchObject({ code: 'no-result', field: 'airFraction' });
  });

  test('ten thousand slips are told as fifty', () => {
    const spans = { value: Array.from({ length: 10_000 }, () => 1e12), unit: 'MPa' };
    const { problems } = findCalculation('gauge-choice')?.run({ working: MPA(1), highest: MPA(1), spans }, {}) ?? {};
    expect(problems).toHaveLength(50);
  });

  test('contacts, edges and load cases beyond measure are refused before the first is solved', async () => {
    const [sample] = samplesOf('holding-force') as [{ locators: unknown[]; loads: unknown[] }];
    const many = (list: unknown[], length: number) => Array.from({ length }, (_, index) => list[index % list.length]);
    const inputs = {
      ...sample,
      loads: many(sample.loads, 2000),
      locators: many(sample.locators, 100),
      coneFacets: 128,
    };
    const answer = await time('holding-force', inputs);
    expect(answer.problem).toBe('too-many');
    expect(answer.tookMs).toBeLessThan(1_000);
  });
});

test('exact intervals of ten million events meet those of the expansion beyond', () => {
  const interval = (events: number) => {
    const { result } = findCalculation('count-rate-interval')?.run({ events, exposure: 1, confidence: 0.95 }, {}) ?? {};
    return result as { lower: number; upper: number };
  };
  const [before, after] = [interval(9_999_998), interval(10_000_000)];
  // Two events more move both ends by two events, and by next to nothing else.
  expect(after.lower - before.lower).toBeCloseTo(2, 2);
  expect(after.upper - before.upper).toBeCloseTo(2, 2);
});
