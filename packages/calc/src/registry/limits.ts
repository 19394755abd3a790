import type { QuantityKind } from '@repo/quantity';

/** Sizes beyond which a figure is a slip, not an engineering value: [lowest, highest] in SI. */
const YEAR_S = 365.25 * 86_400;
const ABSURD: Partial<Record<QuantityKind, readonly [number, number]>> = {
  pressure: [-2e9, 2e9],
  stress: [-1e13, 1e13],
  modulus: [-1e13, 1e13],
  length: [-1e4, 1e4],
  force: [-1e9, 1e9],
  flow: [-100_000 / 60_000, 100_000 / 60_000],
  volume: [-1000, 1000],
  time: [-100 * YEAR_S, 100 * YEAR_S],
  temperature: [173.15, 673.15],
  'temperature-difference': [-500, 500],
};
const WORDS: Partial<Record<QuantityKind, string>> = {
  pressure: 'at most 20 000 bar',
  stress: 'at most 10 000 GPa',
  modulus: 'at most 10 000 GPa',
  length: 'at most 10 km',
  force: 'at most 1 GN',
  flow: 'at most 100 000 L/min',
  volume: 'at most 1000 m3',
  time: 'at most 100 years',
  temperature: '-100 to 400 Cel',
  'temperature-difference': 'at most 500 K',
};
export const LARGEST_PLAIN = 1e12;
/** lists longer than this are refused before they cost time */
export const LONGEST_LIST = 10_000;

/** What a size must keep to when it does not; null when it does. */
export function findAbsurdity(si: number, kind: QuantityKind): string | null {
  const limits = ABSURD[kind];
  if (!limits) return null;
  const slack = 1e-12 * Math.max(Math.abs(limits[0]), Math.abs(limits[1]));
  return si < limits[0] - slack || si > limits[1] + slack ? String(WORDS[kind]) : null;
}

/** Kinds whose zero is no lower end. */
export function isSignedKind(kind: QuantityKind): boolean {
  return kind === 'temperature' || kind === 'temperature-difference';
}

/** The ending of SI field names by kind: thing, which, bound, unit last. */
export const SI_SUFFIX = {
  pressure: 'Pa',
  stress: 'Pa',
  modulus: 'Pa',
  length: 'M',
  area: 'M2',
  volume: 'M3',
  force: 'N',
  flow: 'M3PerS',
  time: 'S',
  temperature: 'K',
  'temperature-difference': 'K',
  speed: 'MPerS',
  mass: 'Kg',
  density: 'KgPerM3',
  'kinematic-viscosity': 'M2PerS',
  power: 'W',
  energy: 'J',
  torque: 'Nm',
  angle: 'Rad',
  'angular-speed': 'RadPerS',
  'angular-acceleration': 'RadPerS2',
  frequency: 'Hz',
  rate: 'PerS',
  resistance: 'Ohm',
  voltage: 'V',
  current: 'A',
  inductance: 'H',
  stiffness: 'NPerM',
  damping: 'NsPerM',
  'hydraulic-resistance': 'PaSPerM3',
  'pressure-rate': 'PaPerS',
  'thermal-expansion': 'PerK',
  'particle-concentration': 'PerM3',
  ratio: '',
} as const satisfies Record<QuantityKind, string>;
export type SiSuffix<K extends QuantityKind> = (typeof SI_SUFFIX)[K];
