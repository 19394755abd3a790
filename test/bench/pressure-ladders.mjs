import { pressureLadder } from '@repo/calc';

const ref = (/** @type {string} */ name) => ({ entity: 'component', id: name, name });

/** A circuit with everything known: two operations, fourteen components, relief, switch and gauge. */
const INPUT = {
  operations: [10, 20].map((number) => ({
    ref: ref(`operation ${number}`),
    requiredPressurePa: 11e6 + number * 1e4,
    requiredBasis: /** @type {const} */ ('typed'),
    workpieceLimitPa: 19.5e6,
    workpieceNotLimiting: false,
  })),
  leastWorking: [{ ref: ref('support'), leastWorkingPressurePa: 7e6 }],
  setPointPa: 15e6,
  resetPointPa: 14.2e6,
  switchAccuracyPa: 2e5,
  settingPa: 17.5e6,
  settingHalfWidthPa: 4e5,
  gaugeErrorPa: 4e5,
  hasReducingValve: false,
  pump: {
    drive: /** @type {const} */ ('air'),
    pistonRatio: 40,
    stallEfficiencyRatio: 0.98,
    airPressurePa: 4.5e5,
    airPressureLowPa: 5.2e5,
    airPressureHighPa: 6.5e5,
    highestPressurePa: null,
    restartPressurePa: 16.2e6,
    restartHalfWidthPa: 3e5,
  },
  relief: { ref: ref('relief'), openingPressurePa: 19e6, fullFlowPressurePa: 20.5e6 },
  thermal: { canTrap: false, temperatureRiseK: null, netExpansionPerK: null, bulkModulusPa: null },
  hold: { decayRatePaPerS: 1000, reactionTimeS: 1.2 },
  components: Array.from({ length: 14 }, (_, index) => ({
    ref: ref(`component ${index}`),
    kind: 'hose',
    ratedPressurePa: 21e6 + index * 5e5,
    deratingRatio: 1,
    lineFunctions: /** @type {const} */ (['clamp']),
    rodSideAreaRatio: null,
  })),
  unclampLineCanBlock: false,
  marginsAsked: {
    'holds-workpiece': 0.03,
    'no-nuisance-stop': 0.02,
    'setting-within-rating': 0.03,
    'highest-within-rating': 0,
    'workpiece-limit': 0.02,
  },
};

/** Whole pressure ladders a second, each with another setting so that nothing can be remembered. */
export function pressureLaddersPerSecond(rounds = 40_000) {
  let held = 0;
  const compute = (/** @type {number} */ index) => {
    held += pressureLadder({ ...INPUT, settingPa: 17e6 + (index % 1000) * 1e3 }).status === 'holds' ? 1 : 0;
  };
  for (let warm = 0; warm < 5_000; warm += 1) compute(warm);
  const began = performance.now();
  for (let index = 0; index < rounds; index += 1) compute(index);
  if (held === 0) throw new Error('no ladder of the benchmark holds');
  return (rounds / (performance.now() - began)) * 1000;
}
