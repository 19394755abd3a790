#!/usr/bin/env node
// npm run bench:calc: speeds of the calculations that people wait for, on one core.
import { readFileSync } from 'node:fs';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { buildIfMissing } from '../bin/build-if-missing.mjs';

buildIfMissing();
const {
  calculate,
  checkControlWiring,
  checkHoldsWithoutSupply,
  checkOrderAndSpeed,
  checkReservoir,
  checkSharedSupply,
  findCalculation,
  pressureLadder,
} = await import('../dist/index.js');
const { USUAL_MARGINS } = await import('../dist/circuit-checks/checks.js');
const { clampSequence } = await import('../dist/filling/clamp-sequence.js');
const { interlockProof } = await import('../dist/interlock/interlock-proof.js');
const { INTERLOCK_FAULTS } = await import('../dist/interlock/interlock-model.js');
const { proveFacts } = await import('../dist/circuit-facts/prove-facts.js');
const { readFields } = await import('../dist/registry/input-fields.js');
const { Reading } = await import('../dist/registry/problem.js');
const { loadSolver } = await import('../dist/holding/load-solver.js');
const here = path.dirname(fileURLToPath(import.meta.url));

/** @typedef {Awaited<ReturnType<typeof loadSolver>>} Solver */
/** @typedef {import('../dist/interlock/interlock-model.js').InterlockCircuit} InterlockCircuit */
/** @typedef {{ inputs: Record<string, unknown>, radauEvaluations: number }} ClampCircuit */

/** @type {boolean[]} */
const goals = [];
/**
 * @param {string} name
 * @param {string} value
 * @param {string} unit
 * @param {string} goal
 * @param {boolean} met
 */
const report = (name, value, unit, goal, met) => {
  goals.push(met);
  console.log(`${name.padEnd(52)}${value.padStart(12)} ${unit.padEnd(8)} goal ${goal}${met ? '' : '  MISSED'}`);
};
/** @param {readonly number[]} values */
const median = (values) => [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)] ?? Number.NaN;

/** @param {number} value */
const bar = (value) => value * 1e5;
/** @param {string} name */
const ref = (name) => ({ entity: 'bench', id: name, name });
/**
 * @param {number} seed
 * @returns {Parameters<typeof pressureLadder>[0]}
 */
function makePressureLadder(seed) {
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
    marginsAsked: USUAL_MARGINS,
  };
}
/**
 * Inputs of checks 7 and 10 to 13 of one circuit, as many parts as a pallet with four clamps has.
 * @typedef {object} OtherInputs
 * @property {Parameters<typeof checkControlWiring>[0]} wiring
 * @property {Parameters<typeof checkSharedSupply>[0]} supply
 * @property {Parameters<typeof checkHoldsWithoutSupply>[0]} alone
 * @property {Parameters<typeof checkOrderAndSpeed>[0]} order
 * @property {Parameters<typeof checkReservoir>[0]} reservoir
 */
/**
 * @param {number} seed
 * @returns {OtherInputs}
 */
function makeOthers(seed) {
  const four = [0, 1, 2, 3];
  return {
    wiring: {
      requiredRatingW: 60 + (seed % 5),
      supplyRatingW: 120,
      peakLoadW: 90,
      peakRatingW: 150,
      coils: four.map((k) => ({
        ref: ref(`coil ${k}`),
        voltageAtCoilV: 23 + 0.1 * k,
        ratedVoltageV: 24,
        toleranceRatio: 0.1,
        isRatedContinuous: true,
        isHeldOn: true,
        hasSuppression: true,
        peakVoltageV: 48,
        outputRatingV: 60,
        isPolarityRight: true,
      })),
      hasSeparateCommons: true,
      conductors: four.map((k) => ({
        ref: ref(`W${k}`),
        protectionA: 6,
        conductorLimitA: 7,
        insulationV: 300,
        highestInCableV: 24,
      })),
      marginAsked: 0,
    },
    supply: {
      resetPointPa: bar(135),
      switchAccuracyPa: bar(3),
      gaugeErrorPa: bar(4),
      restartPressurePa: bar(165),
      restartHalfWidthPa: bar(3),
      others: [0, 1].map((k) => ({ ref: ref(`station ${k}`), lowestPressurePa: bar(150 + k) })),
      marginAsked: 0.02,
    },
    alone: {
      isDecoupled: true,
      requiredPressurePa: bar(110),
      settingPa: bar(170 + (seed % 9)),
      settingHalfWidthPa: bar(5),
      gaugeErrorPa: bar(4),
      decayRatePaPerS: 500,
      timeWithoutS: 1200,
      coolingK: 1,
      pressurePerKelvinPaPerK: bar(3),
      isProvedAgain: true,
      marginAsked: 0.05,
    },
    order: {
      supports: [0, 1].map((k) => ({
        ref: ref(`support ${k}`),
        lockPressurePa: bar(60),
        clampsLoadFromPa: bar(80),
        loadN: 2000,
        capacityN: 4000 + seed,
      })),
      swingClamps: four.map((k) => ({
        ref: ref(`clamp ${k}`),
        flowM3PerS: 2e-5,
        highestFlowM3PerS: 4e-5,
        pressurePa: bar(170),
        armPressurePa: bar(200 + k),
      })),
      marginAsked: 0,
    },
    reservoir: {
      circuits: four.map((k) => ({ ref: ref(`circuit ${k}`), clampVolumeM3: 1e-4, returnVolumeM3: 8e-5 })),
      usableVolumeM3: 2e-3,
      freeVolumeM3: 2e-3,
      marginAsked: 0,
    },
  };
}
const circuits = Array.from({ length: 1000 }, (_, seed) => ({ ladder: makePressureLadder(seed), ...makeOthers(seed) }));
let unproven = 0;
const rates = [1, 2, 3, 4, 5].map(() => {
  const start = performance.now();
  for (let round = 0; round < 10; round += 1) {
    for (const { ladder, wiring, supply, alone, order, reservoir } of circuits) {
      pressureLadder(ladder);
      const checks = [
        checkControlWiring(wiring),
        checkSharedSupply(supply),
        checkHoldsWithoutSupply(alone),
        checkOrderAndSpeed(order),
        checkReservoir(reservoir),
      ];
      unproven += checks.filter(({ status }) => status === 'unproven').length;
    }
  }
  return (10_000 / (performance.now() - start)) * 1000;
});
if (unproven > 0) throw new Error('the circuits of the benchmark leave checks without their figures');
report('circuits, checks 1-4, 7 and 9-13', median(rates).toFixed(0), '1/s', 'at least 10 000', median(rates) >= 10_000);

/** @type {{ rows: ClampCircuit[] }} */
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

// How many right-hand sides SciPy's Radau took for each circuit, at the same tolerance, is kept beside the circuits.
const sequence = findCalculation('clamp-sequence');
if (sequence === null) throw new Error('the registry has no clamp-sequence');
const ratios = rows.map(({ inputs, radauEvaluations }) => {
  /** @type {unknown} */
  const input = readFields(sequence.inputs, inputs, '', new Reading());
  if (input === undefined) throw new Error('a circuit of the benchmark is refused');
  const { evaluations } = clampSequence(/** @type {Parameters<typeof clampSequence>[0]} */ (input));
  return evaluations / radauEvaluations;
});
report(
  "  right-hand sides over those of SciPy's Radau, worst",
  Math.max(...ratios).toFixed(2),
  'times',
  'at most 3',
  Math.max(...ratios) <= 3,
);
report('  the same, median', median(ratios).toFixed(2), 'times', '(shown)', true);

const { listWholeCircuits } = await import('./whole-circuits.mjs');
const wholes = await listWholeCircuits(200);
for (const facts of wholes) proveFacts(facts);
/** The least of three: what the machine does beside it is not the proof's. */
const wholeTimes = wholes.map((facts) =>
  Math.min(
    ...[1, 2, 3].map(() => {
      const start = performance.now();
      proveFacts(facts);
      return performance.now() - start;
    }),
  ),
);
report(
  'whole proof, all checks, median of 200 circuits',
  median(wholeTimes).toFixed(2),
  'ms',
  'at most 2',
  median(wholeTimes) <= 2,
);
report('whole proof, slowest of 200 circuits', Math.max(...wholeTimes).toFixed(1), 'ms', '(shown)', true);

const solver = await loadSolver();
/**
 * @param {number[]} value
 * @param {string} unit
 */
const vector = (value, unit) => ({ value, unit });
/** @type {[number, number][]} */
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
    { x: 60, y: 60 },
    { x: 140, y: 60 },
    { x: 100, y: 90 },
  ].map(({ x, y }) => ({
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
/** The same without the search for the best change: the solver's own work on the same programs. */
const plainFixture = { ...fixture, forceStep: 0, frictionStep: 0 };
let inSolver = 0;
/** @type {Solver} */
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
/** @type {[name: string, inputs: object][]} */
const fixtures = [
  ['holding-force, 200 load cases and 12 contacts', plainFixture],
  ['  the same with its best change', fixture],
];
for (const [name, inputs] of fixtures) {
  const runs = [1, 2, 3, 4, 5, 6, 7].map(() => {
    inSolver = 0;
    const start = performance.now();
    const { result } = calculate('holding-force', inputs, { solver: timed });
    const whole = performance.now() - start;
    if (result?.scale == null) throw new Error('the fixture of the benchmark does not hold');
    return { whole, share: whole / inSolver };
  });
  const whole = Math.max(...runs.map((run) => run.whole));
  const share = median(runs.map((run) => run.share));
  report(name, whole.toFixed(0), 'ms', 'at most 2000 (slowest of 7)', whole <= 2000);
  report("    over the solver library's own time", share.toFixed(2), 'times', 'at most 2 (median of 7)', share <= 2);
}

/** @type {readonly InterlockCircuit['valve'][]} */
const VALVES = ['double-detented', 'double-centred', 'single-rests-clamped', 'single-rests-unclamped'];
/**
 * @param {number} i
 * @returns {InterlockCircuit}
 */
const station = (i) => ({
  name: `S${i}`,
  valve: VALVES[i % VALVES.length] ?? 'double-detented',
  checkValve: i < 4,
  clampOutput: `Y${2 * i}`,
  unclampOutput: `Y${2 * i + 1}`,
  switchInput: `X${i}`,
  clampCode: `clamp ${i}`,
  unclampCode: `unclamp ${i}`,
  codesWait: i % 3 !== 0,
  outputs: i % 2 === 0 ? 'held' : 'pulsed',
});
/** @type {Parameters<typeof interlockProof>[0]['machine']} */
const machine = {
  onPressureLoss: 'stop',
  cutNeedsSwitch: true,
  palletNeedsSwitch: true,
  unclampBlockedWhile: 'turning',
  alarmLatches: true,
  resetClearsAlarm: false,
  alarmMasked: true,
  onEmergencyStop: 'keep',
  onReset: 'keep',
  onPowerReturn: 'keep',
  onAirLow: 'stop',
  airReturn: 'by-hand',
  switchMustOpen: true,
  manualInterlocked: true,
};
const proofs = [1, 2, 3].map(() => {
  const start = performance.now();
  interlockProof({ stations: Array.from({ length: 8 }, (_, i) => station(i)), machine, faults: INTERLOCK_FAULTS });
  return performance.now() - start;
});
report(
  'interlock, 8 stations, no two alike, all faults',
  Math.max(...proofs).toFixed(0),
  'ms',
  'below 1000',
  Math.max(...proofs) < 1000,
);
process.exitCode = goals.every(Boolean) ? 0 : 1;
