/** Circuits that chance does not make, each one figure away from the circuit that holds in every check. */
import type { CircuitFacts } from '../../src/index.js';
import { ELEMENT, READINGS, SETTINGS, aCircuit, aControl, aFixture, aSupport } from '../facts-builder.js';
import { component as aComponent } from '../random-parts.js';

type Figures = Record<string, number>;
type Component = CircuitFacts['components'][number];
const basis = aCircuit();
const relief = (change: Partial<Component>, figures: Figures = {}): readonly Component[] =>
  basis.components.map((component) =>
    component.kind === 'relief-valve'
      ? { ...component, ...change, figures: { ...component.figures, ...figures } }
      : component,
  );
const clampHose = (figures: Figures): readonly Component[] =>
  basis.components.map((component) =>
    component.kind === 'hose' && component.lineFunctions.includes('clamp')
      ? { ...component, figures: { ...component.figures, ...figures } }
      : component,
  );
const read = (change: Partial<typeof READINGS>): CircuitFacts =>
  aCircuit({ settings: { inUse: SETTINGS, isAsLeft: true, readings: { ...READINGS, ...change } } });
const set = (change: Partial<typeof SETTINGS>): CircuitFacts =>
  aCircuit({ settings: { inUse: { ...SETTINGS, ...change }, isAsLeft: true, readings: READINGS } });
const HIGH_AIR = { ...basis.powerUnit, plantAirHighPa: 6e5 };
const [SWITCH] = basis.components.filter(({ kind }) => kind === 'pressure-switch');

export const HAND_MADE: Readonly<Record<string, CircuitFacts>> = {
  'clamped in 4 s of 3 s, contact not read': read({ clampTimeS: 4, contactTimeS: null }),
  'opened in 7 s of 6 s, oil at 30 C': read({ unclampTimeS: 7, oilTemperatureK: 303.15 }),
  'opened in 7 s of 6 s, oil temperature not read': read({ unclampTimeS: 7, oilTemperatureK: null }),
  'lowest while shared above the setting': read({ lowestWhileSharedPa: 190e5 }),
  'leak read at 100 bar': read({ settingPa: 100e5 }),
  'reset point above set point': set({ resetPointPa: 155e5 }),
  'restart at 200 bar of 175': set({ pumpRestartPa: 200e5 }),
  'high air, relief in the tank line alone': aCircuit({
    components: relief({ lineFunctions: ['tank'] }),
    powerUnit: HIGH_AIR,
  }),
  'high air, relief in the unclamp line of the circuit': aCircuit({
    components: relief({ lineFunctions: ['unclamp'], place: 'circuit' }),
    powerUnit: HIGH_AIR,
  }),
  'high air, relief at full flow said to be below where it opens': aCircuit({
    components: relief({}, { openingPressure: 215e5, fullFlowPressure: 100e5 }),
    powerUnit: HIGH_AIR,
  }),
  'nobody has said whether oil can be shut in': aCircuit({ circuit: { ...basis.circuit, canTrap: null } }),
  '160 bar shut in and warmed by 40 K': aCircuit({
    circuit: {
      ...{ ...basis.circuit, canTrap: true, trappedTemperatureRiseK: 40 },
      ...{ trappedNetExpansionPerK: 6e-4, trappedBulkModulusPa: 1e9, unclampBulkModulusPa: 1e9 },
    },
    fixture: aFixture({ ratedPressurePa: 240e5 }),
    settings: { inUse: { ...SETTINGS, settingPa: 160e5 }, isAsLeft: true, readings: { ...READINGS, settingPa: 160e5 } },
  }),
  'two switches, the second slow and coarse': aCircuit({
    components: [
      ...basis.components,
      ...(SWITCH === undefined ? [] : [{ ...SWITCH, id: 'second', figures: { accuracy: 30e5, delay: 5 } }]),
    ],
  }),
  'an output of the other station of the same name but for a space and a capital': aCircuit({
    control: aControl({
      signals: aControl().signals.map((signal) => (signal.name === 'Y31' ? { ...signal, name: ' y21' } : signal)),
    }),
  }),
  'the hose of the clamp line derated to 60 %': aCircuit({
    components: clampHose({ temperatureDerating: 0.75, ageDerating: 0.8 }),
  }),
  'a derating above one': aCircuit({ components: clampHose({ bendDerating: 1.5 }) }),
  'a hose that lets out 3 L/min when it bursts': aCircuit({ components: clampHose({ burstFlow: 5e-5 }) }),
  'a hose that lets out a thousandth of it': aCircuit({ components: clampHose({ burstFlow: 1e-12 }) }),
  'a burst hose in oil of unknown modulus': aCircuit({
    components: clampHose({ burstFlow: 5e-5 }),
    powerUnit: { ...basis.powerUnit, oilBulkModulusPa: null },
  }),
  'a gauge read at 40 K from where its class is stated': aCircuit({
    powerUnit: { ...basis.powerUnit, gaugeOffReferenceK: 40 },
  }),
  'swing clamps with their clamp line shut while they are unclamped': aCircuit({
    circuit: { ...basis.circuit, isDecoupled: true },
  }),
  'the same with a relief in the clamp line': aCircuit({
    circuit: { ...basis.circuit, isDecoupled: true },
    components: relief({ place: 'circuit', lineFunctions: ['clamp'], isBeyondShutOff: true }),
  }),
  'lever clamps with their unclamp line shut while they clamp': aCircuit({
    circuit: { ...basis.circuit, unclampLineCanBlock: true },
    fixture: aFixture({ elements: [{ ...ELEMENT, form: 'lever-clamp' }] }),
  }),
  'clamps of which nobody has said whether they pull': aCircuit({
    circuit: { ...basis.circuit, unclampLineCanBlock: true },
    fixture: aFixture({ elements: [{ ...ELEMENT, form: null }] }),
  }),
  'a check valve is said to hold clamps that springs push back, and none is fitted': aCircuit({
    circuit: { ...basis.circuit, isCheckHeld: true },
    fixture: aFixture({
      elements: [{ ...ELEMENT, acting: 'single', springForceN: 300, springForceAtContactN: 420 }],
    }),
    components: basis.components
      .filter(({ lineFunctions }) => !lineFunctions.every((line) => line === 'unclamp'))
      .map((component) => ({
        ...component,
        lineFunctions: component.lineFunctions.filter((line) => line !== 'unclamp'),
      })),
  }),
  'a sequence valve that may open 6 bar below its 105 bar, before supports that lock at 100 bar': aCircuit({
    fixture: aFixture({ elements: [aSupport({ leastWorkingPressurePa: 100e5 }), ELEMENT] }),
    components: [
      ...basis.components,
      aComponent('sequence-valve', 'circuit', ['clamp'], {
        ...{ ratedPressure: 350e5, openingPressure: 105e5, leastWorkingPressure: 105e5, openingTolerance: 6e5 },
      }),
    ],
  }),
};
