import type { QuantityKind } from '@repo/quantity';

/** A figure that is let run while the others stay, and what is read off. Values in `unit`. */
export interface Sweep {
  code: string;
  input: { name: string; kind: QuantityKind | null; unit: string | null };
  output: { name: string; kind: QuantityKind | null; unit: string | null; isLog?: boolean };
  /** where the input runs, from what was entered for it (`at`) and for the others */
  range: (at: number | null, read: ReadInput) => readonly [number, number];
  /** points of the curve; fewer where each is dear */
  samples?: number;
  /** the output becomes the x axis: a time that a pressure takes is read as pressure over time */
  isTurned?: boolean;
}
/** An input in a unit; null when it was left out or has none. */
export type ReadInput = (name: string, kind: QuantityKind | null, unit: string | null) => number | null;

const aroundIt =
  (usual: number, least = 0) =>
  (at: number | null): readonly [number, number] => [least, 2 * (at === null || at === 0 ? usual : at)];
const bar = { kind: 'pressure', unit: 'bar' } as const;
const plain = { kind: null, unit: null } as const;

/** Calculations whose plot is one input let run. */
export const SWEEPS: Readonly<Record<string, Sweep>> = {
  'oil-viscosity': {
    code: 'viscosity-over-temperature',
    input: { name: 'temperature', kind: 'temperature', unit: 'Cel' },
    output: { name: 'kinematicViscosity', kind: 'kinematic-viscosity', unit: 'mm2/s', isLog: true },
    range: (at) => [Math.min(-10, at ?? 0), Math.max(100, at ?? 0)],
  },
  'air-driven-pump': {
    code: 'pump-curve',
    input: { name: 'pressure', ...bar },
    output: { name: 'flow', kind: 'flow', unit: 'L/min' },
    range: (_at, read) => [
      0,
      Number(read('pistonRatio', null, null)) *
        Number(read('airPressure', 'pressure', 'bar')) *
        (read('efficiency', null, null) ?? 1),
    ],
  },
  'line-loss': {
    code: 'loss-over-flow',
    input: { name: 'flow', kind: 'flow', unit: 'L/min' },
    output: { name: 'pressureLoss', ...bar },
    range: aroundIt(10),
  },
  'effective-bulk-modulus': {
    code: 'modulus-over-pressure',
    input: { name: 'pressure', ...bar },
    output: { name: 'bulkModulus', kind: 'modulus', unit: 'MPa' },
    range: aroundIt(150),
  },
  'normal-cusum-arl': {
    code: 'run-length-over-shift',
    samples: 24,
    input: { name: 'shift', ...plain },
    output: { name: 'arl', ...plain, isLog: true },
    range: (at) => [Math.min(0, at ?? 0), Math.max(3, at ?? 0)],
  },
  'ewma-arl': {
    code: 'run-length-over-shift',
    samples: 24,
    input: { name: 'shift', ...plain },
    output: { name: 'arl', ...plain, isLog: true },
    range: (at) => [Math.min(0, at ?? 0), Math.max(3, at ?? 0)],
  },
  'count-cusum-arl': {
    code: 'run-length-over-mean',
    samples: 24,
    input: { name: 'mean', ...plain },
    output: { name: 'arl', ...plain, isLog: true },
    range: (at, read) => [0.3 * (read('inControlMean', null, null) ?? at ?? 1), 2 * (at ?? 1)],
  },
  'hold-time': {
    code: 'pressure-over-time',
    input: { name: 'pressureEnd', ...bar },
    output: { name: 'time', kind: 'time', unit: 's' },
    range: (at, read) => [at ?? 0, read('pressureStart', 'pressure', 'bar') ?? 0],
    isTurned: true,
  },
  'pressurise-time': {
    code: 'pressure-over-time',
    input: { name: 'targetPressure', ...bar },
    output: { name: 'totalTime', kind: 'time', unit: 's' },
    range: (_at, read) => [
      read('startPressure', 'pressure', 'bar') ?? 0,
      0.97 * (read('stallPressure', 'pressure', 'bar') ?? 0),
    ],
    isTurned: true,
  },
  'swing-clamp-force': {
    code: 'force-over-arm',
    input: { name: 'armLength', kind: 'length', unit: 'mm' },
    output: { name: 'clampForce', kind: 'force', unit: 'kN' },
    range: aroundIt(50),
  },
  'specific-cutting-force': {
    code: 'cutting-force-over-chip',
    input: { name: 'chipThickness', kind: 'length', unit: 'mm' },
    output: { name: 'kc', kind: 'stress', unit: 'N/mm2' },
    // Where the law was measured.
    range: () => [0.05, 1],
  },
  'precharge-at-temperature': {
    code: 'precharge-over-temperature',
    input: { name: 'newTemperature', kind: 'temperature', unit: 'Cel' },
    output: { name: 'pressure', ...bar },
    range: (at) => [Math.min(-20, at ?? 0), Math.max(80, at ?? 0)],
  },
  'trapped-oil-thermal-rise': {
    code: 'rise-over-warming',
    input: { name: 'temperatureRise', kind: 'temperature-difference', unit: 'K' },
    output: { name: 'pressureRise', ...bar },
    range: (at) => [Math.min(0, 2 * (at ?? 0)), Math.max(2 * (at ?? 0), 5)],
  },
};
