#!/usr/bin/env node
// npm run bench:calc: speeds of the calculations that people wait for, on one core.
import { readFileSync } from 'node:fs';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { buildIfMissing } from '../bin/build-if-missing.mjs';

buildIfMissing();
const { calculate, pressureLadder } = await import('../dist/index.js');
const { loadSolver } = await import('../dist/holding/load-solver.js');
const here = path.dirname(fileURLToPath(import.meta.url));
const goals = [];
const report = (name, value, unit, goal, met) => {
  goals.push(met);
  console.log(`${name.padEnd(52)}${value.padStart(12)} ${unit.padEnd(8)} goal ${goal}${met ? '' : '  MISSED'}`);
};
const median = (values) => [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)];

const ref = (name) => ({ entity: 'bench', id: name, name });
function makeLadder(seed) {
  const bar = (value) => value * 1e5;
  return {
    operations: [0, 1, 2, 3, 4].map((k) => ({
      ref: ref(`operation ${k}`),
      requiredPressurePa: bar(110 + k + (seed % 20)),
      requiredBasis: 'typed',
      workpieceLimitPa: bar(210),
      workpieceNotLimiting: false,
    })),
    leastWorking: [],
    setPointPa: bar(152),
    resetPointPa: bar(135 + (seed % 7)),
    switchAccuracyPa: bar(3),
    settingPa: bar(170 + (seed % 9)),
    settingHalfWidthPa: bar(5),
    gaugeErrorPa: bar(4),
    hasReducingValve: false,
    pump: {
      drive: 'air',
      pistonRatio: 35,
      stallEfficiencyRatio: 1,
      airPressurePa: bar(5),
      airPressureLowPa: bar(4.8),
      airPressureHighPa: bar(6),
      highestPressurePa: null,
      restartPressurePa: bar(165),
      restartHalfWidthPa: bar(3),
    },
    relief: { ref: ref('relief'), openingPressurePa: bar(190), fullFlowPressurePa: bar(205) },
    thermal: { canTrap: true, temperatureRiseK: 1, netExpansionPerK: 7e-4, bulkModulusPa: 1e9 },
    hold: { decayRatePaPerS: bar(1), reactionTimeS: 2 },
    components: Array.from({ length: 14 }, (_, i) => ({
      ref: ref(`part ${i}`),
      kind: 'hose',
      ratedPressurePa: bar(250 + i * 10),
      deratingRatio: 1,
      lineFunctions: i % 2 ? ['clamp'] : ['clamp', 'unclamp'],
      rodSideAreaRatio: i === 0 ? 1.2 : null,
    })),
    unclampLineCanBlock: true,
    marginsAsked: {
      'holds-workpiece': 0.05,
      'no-nuisance-stop': 0.02,
      'setting-within-rating': 0.1,
      'highest-within-rating': 0,
      'workpiece-limit': 0.05,
    },
  };
}
const ladders = Array.from({ length: 1000 }, (_, seed) => makeLadder(seed));
const rates = [1, 2, 3, 4, 5].map(() => {
  const start = performance.now();
  for (let round = 0; round < 10; round += 1) for (const ladder of ladders) pressureLadder(ladder);
  return (10_000 / (performance.now() - start)) * 1000;
});
report(
  'pressure ladders, checks 1-4 and 9',
  median(rates).toFixed(0),
  '1/s',
  'at least 10 000',
  median(rates) >= 10_000,
);

const { rows } = JSON.parse(readFileSync(path.join(here, '../test/data/clamp-circuits.json'), 'utf8'));
for (const { inputs } of rows.slice(0, 50)) calculate('clamp-sequence', inputs);
const transients = rows.map(({ inputs }) => {
  const start = performance.now();
  calculate('clamp-sequence', inputs);
  return performance.now() - start;
});
report(
  'clamp-sequence, median of 200 circuits',
  median(transients).toFixed(2),
  'ms',
  'at most 5',
  median(transients) <= 5,
);
report('clamp-sequence, slowest of 200 circuits', Math.max(...transients).toFixed(1), 'ms', '(shown)', true);

const solver = await loadSolver();
const vector = (value, unit) => ({ value, unit });
const contacts = [
  [0, 0],
  [1, 0],
  [0.5, 1],
  [0.2, 0.3],
  [0.8, 0.3],
  [0.5, 0.6],
];
const fixture = {
  locators: contacts
    .map(([x, y]) => ({ point: vector([200 * x, 120 * y, 0], 'mm'), normal: [0, 0, 1], friction: 0.2 }))
    .concat([
      { point: vector([40, 0, 30], 'mm'), normal: [0, 1, 0], friction: 0.2 },
      { point: vector([160, 0, 30], 'mm'), normal: [0, 1, 0], friction: 0.2 },
      { point: vector([0, 60, 30], 'mm'), normal: [1, 0, 0], friction: 0.2 },
    ]),
  clamps: [
    [60, 60],
    [140, 60],
    [100, 90],
  ].map(([x, y]) => ({
    point: vector([x, y, 80], 'mm'),
    direction: [0, 0, -1],
    force: { value: 8, unit: 'kN' },
    friction: 0.15,
  })),
  loads: Array.from({ length: 200 }, (_, i) => ({
    force: vector([1500 * Math.cos(i / 7), 1500 * Math.sin(i / 7), 300 * Math.sin(i / 3)], 'N'),
    point: vector([i, 60 + 50 * Math.sin(i / 20), 80], 'mm'),
  })),
  safetyFactor: 2,
};
let inSolver = 0;
const timed = {
  withProgram: (program, work) =>
    solver.withProgram(program, (session) =>
      work({
        ...session,
        solve() {
          const start = performance.now();
          const answer = session.solve();
          inSolver += performance.now() - start;
          return answer;
        },
      }),
    ),
};
calculate('holding-force', fixture, { solver });
const start = performance.now();
calculate('holding-force', fixture, { solver: timed });
const whole = performance.now() - start;
report('holding-force, 200 load cases and 12 contacts', whole.toFixed(0), 'ms', 'at most 2000', whole <= 2000);
report(
  "  of the solver library's own time",
  (whole / inSolver).toFixed(2),
  'times',
  'at most 2',
  whole <= 2 * inSolver,
);
process.exitCode = goals.every(Boolean) ? 0 : 1;
