/** What leaks past pistons into the shut unclamp line, worked out by hand a second time: two lines, one flow of oil between them. Source: balance of volumes. */
import type { CircuitFacts } from '../../src/index.js';
import { figure, oilTemperatures, pullsAsSaid } from './plain-pressures.js';

type Component = CircuitFacts['components'][number];
const MOVING: readonly string[] = ['swing-clamp', 'lever-clamp', 'cylinder', 'work-support'];
const circle = (diameterM: number): number => (Math.PI / 4) * diameterM ** 2;

interface Cylinder {
  count: number;
  /** upon the clamp line and upon the unclamp line */
  areas: readonly [number | null, number | null];
  strokeM: number | null;
  stiffness: number | null;
}

function areasOf(
  boreM: number | null,
  rodM: number | null,
  acting: 'single' | 'double' | null,
  pulls: boolean | null,
): Cylinder['areas'] {
  if (boreM === null || acting === null) return [null, null];
  const piston = circle(boreM);
  // A spring is on the other side of it; of one that pulls the annulus counts, as far as its rod is known.
  if (acting === 'single')
    return [piston - (pulls === true && rodM !== null && rodM >= 0 && rodM < boreM ? circle(rodM) : 0), 0];
  if (rodM === null || rodM < 0 || rodM >= boreM || pulls === null) return [null, null];
  const annulus = piston - circle(rodM);
  return pulls ? [annulus, piston] : [piston, annulus];
}

function cylindersOf({ fixture, components }: CircuitFacts): Cylinder[] {
  const ofFixture = (fixture?.elements ?? [])
    .filter(({ kind }) => kind !== 'locator')
    .map((one) => ({
      count: one.quantity,
      areas: areasOf(one.boreM, one.rodM, one.acting, one.kind === 'clamp' ? pullsAsSaid(one) : false),
      strokeM: one.strokeM,
      stiffness: one.contactStiffnessNPerM,
    }));
  const ofCircuit = components
    .filter(({ kind, place }) => place === 'circuit' && MOVING.includes(kind))
    .map((part) => {
      const acting = part.lineFunctions.includes('unclamp')
        ? 'double'
        : part.lineFunctions.length > 0
          ? 'single'
          : null;
      const pulls = part.kind === 'swing-clamp' || (figure(part, 'clampsOnRodSide') ?? 0) > 0;
      return {
        count: 1,
        areas: areasOf(figure(part, 'bore'), figure(part, 'rod'), acting, pulls),
        strokeM: figure(part, 'stroke'),
        stiffness: figure(part, 'contactStiffness'),
      };
    });
  return [...ofFixture, ...ofCircuit];
}

function volumeOf(components: readonly Component[], line: 'clamp' | 'unclamp'): number | null {
  const pieces = components.filter(
    ({ kind, lineFunctions }) => (kind === 'tube' || kind === 'hose') && lineFunctions.includes(line),
  );
  if (pieces.length === 0) return null;
  let volume = 0;
  for (const piece of pieces) {
    const [outer, wall] = [figure(piece, 'outerDiameter'), figure(piece, 'wall')];
    const bore =
      piece.kind === 'hose'
        ? figure(piece, 'innerDiameter')
        : outer !== null && wall !== null
          ? outer - 2 * wall
          : null;
    const length = figure(piece, 'length');
    // Of a hose that nobody knows how much it widens the movement is not known either.
    if (bore === null || bore <= 0 || length === null || length <= 0) return null;
    if (piece.kind === 'hose' && (figure(piece, 'expansionModulus') ?? 0) <= 0) return null;
    volume += circle(bore) * length;
  }
  return volume;
}

/** Gas filled at 20 C presses in proportion to its absolute temperature; at the lowest pressure it gives way most: V_0 p_0 / p^2. */
function gasOf(facts: CircuitFacts, lowestPa: number): number | null {
  const { working } = oilTemperatures(facts);
  let sum = 0;
  for (const part of facts.components) {
    const isUpon = part.lineFunctions.length === 0 || part.lineFunctions.includes('clamp');
    if (part.kind !== 'accumulator' || part.place !== 'circuit' || !isUpon) continue;
    const [size, filled] = [figure(part, 'size'), figure(part, 'prechargePressure')];
    if (size === null || size <= 0 || filled === null || working === null) return null;
    const warm = (filled + 101_325) * Math.max(1, working / 293.15);
    sum += (size * warm) / Math.max(warm, lowestPa + 101_325) ** 2;
  }
  return sum;
}

/** Nothing of the clamps' oil passes through them on its way, wherever they are. */
const ASIDE: readonly string[] = [
  ...['reservoir', 'relay', 'power-supply', 'pump', 'gauge', 'pressure-switch', 'relief-valve'],
  ...['directional-valve', 'pressure-regulator', 'reducing-valve'],
];

/** Rise of the unclamp line for each pascal that the clamp line loses, all of it going there; null: not known. */
export function riseBehind(facts: CircuitFacts, lowestPa: number | null): number | null {
  const cylinders = cylindersOf(facts);
  if (cylinders.length === 0) return null;
  if (cylinders.every(({ areas: [, unclamp] }) => unclamp === 0)) return 0;
  const { trappedBulkModulusPa, unclampBulkModulusPa } = facts.circuit;
  const [clampLine, unclampLine] = [volumeOf(facts.components, 'clamp'), volumeOf(facts.components, 'unclamp')];
  const gas = gasOf(facts, lowestPa ?? 0);
  const isAnywhere = facts.components.some(
    ({ kind, lineFunctions }) => lineFunctions.length === 0 && !ASIDE.includes(kind),
  );
  if (clampLine === null || unclampLine === null || gas === null || isAnywhere) return null;
  if (trappedBulkModulusPa === null || unclampBulkModulusPa === null) return null;
  if (trappedBulkModulusPa <= 0 || unclampBulkModulusPa <= 0) return null;
  let strokes = 0;
  let [cc, cu, uu] = [0, 0, 0];
  for (const { count, areas, strokeM, stiffness } of cylinders) {
    const [clamp, unclamp] = areas;
    if (clamp === null || unclamp === null || strokeM === null || stiffness === null || stiffness <= 0) return null;
    strokes += count * clamp * strokeM;
    cc += (count * clamp ** 2) / stiffness;
    cu += (count * clamp * unclamp) / stiffness;
    uu += (count * unclamp ** 2) / stiffness;
  }
  const yieldOfClamp = (clampLine + strokes) / trappedBulkModulusPa + gas;
  const yieldOfUnclamp = unclampLine / unclampBulkModulusPa;
  // For 1 Pa lost: oil = yieldOfClamp + cc + cu r = yieldOfUnclamp r + cu + uu r.
  const oil = yieldOfClamp + cc - cu;
  const per = yieldOfUnclamp + uu - cu;
  return oil <= 0 ? 0 : per <= 0 ? Infinity : oil / per;
}
