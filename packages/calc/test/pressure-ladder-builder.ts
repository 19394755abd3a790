import type {
  FigureRef,
  RatedComponent,
  ProvedOperation,
  PressureLadderInput,
} from '../src/pressure-ladder/pressure-ladder.types.js';

export const ref = (name: string): FigureRef => ({ entity: 'test', id: name, name });

export const anOperation = (change: Partial<ProvedOperation> = {}): ProvedOperation => ({
  ref: ref('roughing'),
  requiredPressurePa: 120e5,
  requiredBasis: 'typed',
  workpieceLimitPa: 210e5,
  workpieceNotLimiting: false,
  ...change,
});

export const aComponent = (change: Partial<RatedComponent> = {}): RatedComponent => ({
  ref: ref('tube'),
  kind: 'tube',
  ratedPressurePa: 400e5,
  deratingRatio: 1,
  lineFunctions: ['clamp'],
  rodSideAreaRatio: null,
  ...change,
});

/** A circuit that holds: 120 bar required, reset 140, set 152, setting 175 ± 5, stall 210, ratings from 250 bar. */
export const aPressureLadder = (change: Partial<PressureLadderInput> = {}): PressureLadderInput => ({
  operations: [anOperation()],
  leastWorking: [],
  setPointPa: 152e5,
  resetPointPa: 140e5,
  switchAccuracyPa: 3e5,
  settingPa: 175e5,
  settingHalfWidthPa: 5e5,
  gaugeErrorPa: 4e5,
  hasReducingValve: false,
  pump: {
    drive: 'air',
    pistonRatio: 35,
    stallEfficiencyRatio: 1,
    airPressurePa: 5e5,
    airPressureLowPa: 4.8e5,
    airPressureHighPa: 6e5,
    highestPressurePa: null,
    restartPressurePa: 165e5,
    restartHalfWidthPa: 3e5,
  },
  relief: null,
  thermal: { canTrap: false, temperatureRiseK: null, netExpansionPerK: null, bulkModulusPa: null },
  hold: { decayRatePaPerS: 1e5, reactionTimeS: 2 },
  components: [
    aComponent(),
    aComponent({ ref: ref('hose'), kind: 'hose', ratedPressurePa: 250e5, lineFunctions: ['clamp', 'unclamp'] }),
  ],
  unclampLineCanBlock: false,
  marginsAsked: {
    'holds-workpiece': 0,
    'no-nuisance-stop': 0,
    'setting-within-rating': 0,
    'highest-within-rating': 0,
    'workpiece-limit': 0,
  },
  ...change,
});
