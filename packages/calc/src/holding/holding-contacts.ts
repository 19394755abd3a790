import type { HoldingContact, HoldingForceInput } from './holding-force.js';
import { toBackShare, type HoldingProgram } from './holding-program.js';
import { add, dot, scaleBy, toUnit, type Vector3 } from './vector.js';

/** What stands around the part. */
export type Fixture = Pick<HoldingForceInput, 'locators' | 'clamps' | 'coneFacets'>;

/** Force of each locator, and friction force of each clamp, at a solution [N]; and the sum of the weights of its edges. */
function sumOf(
  { columnForces }: HoldingProgram,
  columns: Float64Array,
  [from, to]: readonly [number, number],
): { force: Vector3; weight: number } {
  let [x, y, z, weight] = [0, 0, 0, 0];
  for (let column = from; column < to; column += 1) {
    const share = columns[column] as number;
    // Few edges of a cone carry anything: hundreds of cases are read this way.
    if (share === 0) continue;
    const force = columnForces[column] as Vector3;
    x += share * force[0];
    y += share * force[1];
    z += share * force[2];
    weight += share;
  }
  return { force: [x, y, z], weight };
}

/** Contact forces at a solution of a case, and what stands at its limit. */
export function toContacts(fixture: Fixture, program: HoldingProgram, columns: Float64Array): HoldingContact[] {
  const { locatorColumns, clampColumns, forceN: unit, scaleUnit } = program;
  const scale = (columns[0] as number) * scaleUnit;
  const small = 1e-6 * unit;
  const toLimit = (normalN: number, used: boolean, limitN?: number): HoldingContact['atLimit'] => {
    if (limitN !== undefined && normalN >= limitN - small) return 'normal-limit';
    if (normalN <= small) return 'lifting';
    return used ? 'sliding' : 'none';
  };
  const onLocators = fixture.locators.map(({ name, normal, friction, limitN }, index): HoldingContact => {
    const { force } = sumOf(program, columns, locatorColumns[index] as readonly [number, number]);
    const n = toUnit(normal);
    const normalN = dot(force, n);
    const frictionN = Math.hypot(...add(force, scaleBy(-normalN, n)));
    // Between two corners a polygon carries less than its corners do.
    const carries = friction * normalN * Math.cos(Math.PI / fixture.coneFacets);
    const isSliding = friction > 0 && frictionN >= carries - small;
    return {
      kind: 'locator',
      index,
      name,
      normalN,
      frictionN,
      forceN: force,
      atLimit: toLimit(normalN, isSliding, limitN),
    };
  });
  const onClamps = fixture.clamps.map((clamp, index): HoldingContact => {
    const { name, direction, friction, forceN, fixed } = clamp;
    const back = toBackShare(clamp);
    const normalN = fixed ? forceN : forceN * Math.max(0, scale - back);
    const { force, weight } = sumOf(program, columns, clampColumns[index] as readonly [number, number]);
    const pressing = fixed ? 1 : (columns[0] as number) - back / scaleUnit;
    const isSliding = friction > 0 && weight >= pressing * (1 - 1e-6);
    const total = add(force, scaleBy(normalN, toUnit(direction)));
    return {
      kind: 'clamp',
      index,
      name,
      normalN,
      frictionN: Math.hypot(...force),
      forceN: total,
      atLimit: toLimit(normalN, isSliding),
    };
  });
  return [...onLocators, ...onClamps];
}
