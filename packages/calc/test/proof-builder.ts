import type { ActuationInput } from '../src/circuit-checks/actuation.types.js';
import type { PartChecksInput } from '../src/circuit-checks/part-checks.js';
import type { InterlockMachine } from '../src/interlock/interlock-model.js';
import { ref } from './pressure-ladder-builder.js';

const piece = (name: string, lengthM: number, innerDiameterM: number) => ({
  ref: ref(name),
  lengthM,
  innerDiameterM,
  isHose: false,
  expansionModulusPa: null,
});

/** Two swing clamps and a support, oil of grade 32, lines of 6 mm: invented. */
export const anActuation = (change: Partial<ActuationInput> = {}): ActuationInput => ({
  groups: [
    {
      ref: ref('swing clamps'),
      role: 'clamp',
      count: 2,
      acting: 'double',
      boreM: 0.025,
      rodM: 0.012,
      strokeM: 0.012,
      frictionN: 60,
      viscousFrictionNsPerM: 400,
      contactStiffnessNPerM: 4e7,
      springForceN: null,
    },
    {
      ref: ref('support'),
      role: 'support',
      count: 1,
      acting: 'single',
      boreM: 0.016,
      rodM: null,
      strokeM: 0.006,
      frictionN: 20,
      viscousFrictionNsPerM: 300,
      contactStiffnessNPerM: 2e7,
      springForceN: 90,
    },
  ],
  pump: { freeFlowM3PerS: 2e-5, stallPressurePa: 2e7, stallPressureLowPa: 1.9e7 },
  valve: { ref: ref('valve'), ratedFlowM3PerS: 1e-4, lossAtRatedFlowPa: 4e5 },
  lines: {
    supply: [piece('tube P', 1.5, 0.006)],
    clamp: [piece('tube A', 2, 0.006), { ...piece('hose A', 1, 0.006), isHose: true, expansionModulusPa: 1.2e9 }],
    unclamp: [piece('tube B', 3, 0.006)],
    tank: [piece('tube T', 1.5, 0.008)],
  },
  oil: {
    viscosityAt40M2PerS: 32e-6,
    viscosityAt100M2PerS: 5.4e-6,
    densityKgPerM3: 870,
    bulkModulusPa: 1.5e9,
    airFraction: 0.005,
    coldTemperatureK: 283.15,
    workingTemperatureK: 313.15,
  },
  returnPressurePa: 1e5,
  switchRisingPa: 152e5,
  switchAt: 'manifold',
  ...change,
});

/** A control that breaks no rule. */
export const SOUND_MACHINE: InterlockMachine = {
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

const station = {
  name: 'A',
  valve: 'double-detented',
  checkValve: true,
  clampOutput: 'Y1',
  unclampOutput: 'Y2',
  switchInput: 'X1',
  clampCode: 'M21',
  unclampCode: 'M22',
  codesWait: true,
  outputs: 'held',
} as const;

/** A circuit of which checks 5 to 8, 12 and 13 hold. */
export const aPartProof = (change: Partial<PartChecksInput> = {}): PartChecksInput => {
  const actuation = anActuation();
  return {
    actuation,
    measured: null,
    clampTimeAllowedS: 4,
    unclampTimeAllowedS: 6,
    needsOpenProof: false,
    hasOpenProof: null,
    controlWiring: {
      requiredRatingW: 60,
      supplyRatingW: 120,
      peakLoadW: 90,
      peakRatingW: 150,
      coils: [],
      hasSeparateCommons: true,
      conductors: [],
    },
    interlock: {
      proof: {
        station: 0,
        stations: [
          station,
          {
            ...station,
            name: 'B',
            clampOutput: 'Y3',
            unclampOutput: 'Y4',
            switchInput: 'X2',
            clampCode: 'M23',
            unclampCode: 'M24',
          },
        ],
        machine: SOUND_MACHINE,
      },
      missing: [],
    },
    order: {
      supports: [
        { ref: ref('support'), lockPressurePa: 40e5, highestLoadN: 2000, ratedLoadN: 7000, ratedPressurePa: 250e5 },
      ],
      sequencePressurePa: 60e5,
      hasSequenceValve: true,
      swingClamps: [{ group: 0, highestFlowM3PerS: 2e-5, armPressurePa: 250e5 }],
    },
    reservoir: {
      circuits: [{ ref: ref('Pallet 1'), groups: actuation.groups, clampLine: actuation.lines.clamp }],
      usableVolumeM3: 2e-3,
      freeVolumeM3: 1e-3,
    },
    marginsAsked: {
      'clamping-time': 0,
      unclamping: 0,
      'shared-supply': 0,
      'holds-without-supply': 0,
      'order-and-speed': 0,
      reservoir: 0,
    },
    ...change,
  };
};
