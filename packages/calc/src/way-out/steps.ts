import type { ChangeCode, ChangeKind } from './changes.js';
import type { Lever } from './levers.js';

/** Nominal pressures by which parts are rated [bar] (preferred numbers as of ISO 2944, from memory). */
const RATINGS_BAR = [100, 125, 160, 200, 210, 250, 280, 315, 350, 400, 420, 500, 630, 700];
/** Conductors as they are sold [mm2] (IEC 60228, from memory). */
const CROSS_SECTIONS_MM2 = [0.5, 0.75, 1, 1.5, 2.5, 4, 6, 10, 16];
/** Protections as they are sold [A], and what coils are wound for [V] (common practice, no source). */
const PROTECTIONS_A = [25, 20, 16, 13, 10, 8, 6, 5, 4, 3, 2, 1, 0.5];
/** Accuracy classes of gauges (EN 837-1, from memory); finer ones are for laboratories. */
const GAUGE_CLASSES = [4, 2.5, 1.6, 1, 0.6];
const COILS_V = [12, 24, 48, 110, 230];
export const BAR = 1e5;
const UNITS: Partial<Readonly<Record<ChangeKind, number>>> = { flow: 1 / 60_000, pressure: BAR, length: 1e-3 };

const USUAL: Partial<Readonly<Record<ChangeCode, readonly number[]>>> = {
  rating: RATINGS_BAR.map((bar) => bar * BAR),
  'arm-pressure': Array.from({ length: 140 }, (_, index) => 5 * (index + 1) * BAR),
  'cross-section': CROSS_SECTIONS_MM2.map((area) => area * 1e-6),
  protection: PROTECTIONS_A,
  'coil-voltage': COILS_V,
  'gauge-class': GAUGE_CLASSES,
  'coil-duty': [1],
};

/** How often a figure may be taken again before another way is better. */
const LARGEST_FACTOR = 20;

/** A flow fuse lets out far less than a hose that bursts. */
const LARGEST_FACTORS: Partial<Readonly<Record<ChangeCode, number>>> = { 'burst-flow': 1000 };

/** Numbers of two digits from a figure on, up or down: as a person would say them. */
function listRound(from: number, way: 'up' | 'down', unit: number, largest: number): number[] {
  const numbers: number[] = [];
  const start = from / unit;
  const [least, most] = way === 'up' ? [start, start * largest] : [start / largest, start];
  for (let power = Math.floor(Math.log10(least)) - 1; 10 ** power <= most; power += 1) {
    for (let digits = 10; digits < 100; digits += 1) {
      // Divided where it is a fraction, so that 0.3 is 0.3.
      const number = power < 0 ? digits / 10 ** -power : digits * 10 ** power;
      if (number > least && number < most) numbers.push(number * unit);
    }
  }
  return way === 'up' ? numbers : numbers.reverse();
}

/** The figures that are tried, the nearest first. */
export function listSteps({ code, kind, from }: Lever, way: 'up' | 'down'): readonly number[] {
  if (from === null || from <= 0) return [];
  const usual = USUAL[code];
  if (usual !== undefined) return usual.filter((figure) => (way === 'up' ? figure > from : figure < from));
  return listRound(from, way, UNITS[kind] ?? 1, LARGEST_FACTORS[code] ?? LARGEST_FACTOR);
}

/** The nearest figure that will do, where every one beyond it does as well; null: none does. */
export function findNearest(steps: readonly number[], isEnough: (figure: number) => boolean): number | null {
  const last = steps.at(-1);
  if (last === undefined || !isEnough(last)) return null;
  let [low, high] = [-1, steps.length - 1];
  while (high - low > 1) {
    const middle = Math.floor((low + high) / 2);
    if (isEnough(steps[middle] as number)) high = middle;
    else low = middle;
  }
  return steps[high] as number;
}

/** Figures in the order in which they are tried: of a pressure there can be millions, of which a few are looked at. */
export type Figures = Pick<readonly number[], 'length' | 'at'>;

/** The run of figures that will do, which lie between one that is too low and one that is too high; null: none does. */
export function findRun(
  steps: Figures,
  isRight: (figure: number) => boolean,
): { lowest: number; highest: number } | null {
  const at = (index: number): number => steps.at(index) as number;
  let first = 0;
  while (first < steps.length && !isRight(at(first))) first += 1;
  if (first === steps.length) return null;
  let [last, beyond] = [first, steps.length];
  while (beyond - last > 1) {
    const middle = Math.floor((last + beyond) / 2);
    if (isRight(at(middle))) last = middle;
    else beyond = middle;
  }
  return { lowest: at(first), highest: at(last) };
}
