import { readFileSync } from 'node:fs';
import path from 'node:path';
import { calculate } from '../src/registry/registry.js';
import type { CheckFile } from '../scripts/check-row.mjs';

const { rows } = JSON.parse(readFileSync(path.join(import.meta.dirname, 'data/checks.json'), 'utf8')) as CheckFile;

/** More of the input means more (or less) of the output, whatever the rest is. */
const LAWS: readonly (readonly [id: string, input: string, output: string, direction: 'rises' | 'falls'])[] = [
  ['cylinder-force', 'pressure', 'extendForce', 'rises'],
  ['cylinder-force', 'backPressure', 'retractForce', 'falls'],
  ['cylinder-pressure', 'force', 'retractPressure', 'rises'],
  ['cylinder-speed', 'flow', 'extendSpeed', 'rises'],
  ['rod-side-intensification', 'pressure', 'rodSidePressure', 'rises'],
  ['lever-clamp-force', 'cylinderForce', 'clampForce', 'rises'],
  ['lever-clamp-force', 'clampArm', 'clampForce', 'falls'],
  ['swing-clamp-force', 'armLength', 'clampForce', 'falls'],
  ['air-driven-pump', 'airPressure', 'stallPressure', 'rises'],
  ['air-driven-pump', 'pressure', 'flow', 'falls'],
  ['air-pressure-for-setting', 'pressure', 'airPressure', 'rises'],
  ['air-consumption', 'oilVolume', 'freeAir', 'rises'],
  ['oil-viscosity', 'temperature', 'kinematicViscosity', 'falls'],
  ['oil-density', 'expansionCoefficient', 'density', 'falls'],
  ['line-loss', 'length', 'pressureLoss', 'rises'],
  ['line-loss', 'density', 'pressureLoss', 'rises'],
  ['valve-loss', 'flow', 'pressureLoss', 'rises'],
  ['valve-loss', 'kv', 'pressureLoss', 'falls'],
  ['tube-rating', 'allowableStress', 'ratedPressure', 'rises'],
  ['tube-rating', 'wall', 'ratedPressure', 'rises'],
  ['tube-wall', 'pressure', 'minimumWall', 'rises'],
  ['thick-cylinder-stress', 'pressure', 'hoopInner', 'rises'],
  ['hose-rating', 'safetyFactor', 'ratedPressure', 'falls'],
  ['container-modulus', 'elasticModulus', 'containerModulus', 'rises'],
  ['effective-bulk-modulus', 'airFraction', 'bulkModulus', 'falls'],
  ['effective-bulk-modulus', 'oilModulus', 'bulkModulus', 'rises'],
  ['combined-bulk-modulus', 'oilModulus', 'bulkModulus', 'rises'],
  ['compression-volume', 'volume', 'oilVolume', 'rises'],
  ['trapped-oil-thermal-rise', 'bulkModulus', 'pressureRise', 'rises'],
  ['leak-down', 'volume', 'leakRate', 'rises'],
  ['hold-time', 'leakRate', 'time', 'falls'],
  ['accumulator-volume', 'oilVolume', 'size', 'rises'],
  ['accumulator-delivery', 'size', 'oilVolume', 'rises'],
  ['pressurise-time', 'volume', 'time', 'rises'],
  ['pressurise-time', 'freeFlow', 'time', 'falls'],
  ['hydrostatic-pressure', 'height', 'pressure', 'rises'],
  ['switch-window', 'required', 'slack', 'falls'],
  ['switch-window', 'gaugeError', 'slack', 'falls'],
  ['pressure-chain', 'highest', 'highestRatio', 'rises'],
  ['specific-cutting-force', 'chipThickness', 'kc', 'falls'],
  ['milling-force', 'feedPerTooth', 'peakTangentialForce', 'rises'],
  ['milling-force', 'axialDepth', 'meanPower', 'rises'],
  ['drilling-force', 'feed', 'torque', 'rises'],
  ['tapping-torque', 'pitch', 'torque', 'rises'],
  ['removal-power', 'efficiency', 'motorPower', 'falls'],
  ['clamp-slip-force', 'friction', 'clampForce', 'falls'],
  ['conductor-resistance', 'length', 'resistance', 'rises'],
  ['conductor-resistance', 'crossSection', 'resistance', 'falls'],
  ['dc-line-drop', 'length', 'voltageAtLoad', 'falls'],
  ['coil-release', 'clampVoltage', 'releaseTime', 'falls'],
  ['protection-choice', 'load', 'requiredRating', 'rises'],
  ['count-rate-interval', 'exposure', 'upper', 'falls'],
  ['gamma-poisson', 'horizon', 'probabilityZero', 'falls'],
  ['normal-cusum-arl', 'h', 'arl', 'rises'],
  ['ewma-arl', 'limit', 'arl', 'rises'],
  ['weibull-reliability', 'age', 'reliability', 'falls'],
  ['gauge-error', 'span', 'error', 'rises'],
  ['clamp-sequence', 'lineVolume', 'timeTo95', 'rises'],
];

const toNumber = (value: unknown): number =>
  Number(typeof value === 'object' && value !== null ? (value as { value: unknown }).value : value);
const scale = (value: unknown, factor: number): unknown =>
  typeof value === 'number' ? value * factor : { ...(value as object), value: toNumber(value) * factor };

test.each(LAWS)('%s: with more %s, %s %s', (id, input, output, direction) => {
  let compared = 0;
  for (const row of rows.filter((candidate) => candidate.calculation === id && candidate.inputs[input] !== undefined)) {
    const steps = [0.9, 1, 1.02].map(
      (factor) => calculate(id, { ...row.inputs, [input]: scale(row.inputs[input], factor) }).result?.[output],
    );
    const values = steps.filter((value) => value !== undefined && value !== null).map(toNumber);
    values.slice(1).forEach((value, index) => {
      compared += 1;
      const rise = (value - Number(values[index])) * (direction === 'rises' ? 1 : -1);
      expect([row.id, rise >= -1e-9 * Math.abs(value)]).toEqual([row.id, true]);
    });
  }
  expect(compared).toBeGreaterThan(1);
});
