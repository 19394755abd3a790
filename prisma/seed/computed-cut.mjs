import { toCutFigures, toHoldingElements, toStoredElements } from '@repo/api/seeding';
import { CALCULATION_VERSION, CUTTING_MATERIALS, requiredOfCut } from '@repo/calc';
import { loadSolver } from '@repo/calc/solver';
import { need } from './need.mjs';
import { columns, q } from './quantities.mjs';

/** @typedef {import('./world.types.js').World} World */
/** @typedef {Parameters<typeof toCutFigures>[0]} Cut as it is sent */
/** @typedef {{ x: number, y: number, z: number }} Direction */

const UP = { x: 0, y: 0, z: 1 };
const DOWN = { x: 0, y: 0, z: -1 };
/** @param {number} value */
const mm = (value) => ({ value, unit: 'mm' });
/**
 * @param {number} x
 * @param {number} y
 * @param {number} z
 * @param {Direction} direction
 */
const place = (x, y, z, direction) => ({ x: mm(x), y: mm(y), z: mm(z), direction });

/** Where the pieces of an invented fixture touch a flange of 300 by 200 by 60 mm. */
const PLACES = {
  clamp: [place(30, 30, 60, DOWN), place(270, 30, 60, DOWN), place(30, 170, 60, DOWN), place(270, 170, 60, DOWN)],
  support: [place(80, 60, 0, UP), place(220, 60, 0, UP), place(80, 140, 0, UP), place(220, 140, 0, UP)],
  locator: [
    place(40, 40, 0, UP),
    place(260, 40, 0, UP),
    place(150, 160, 0, UP),
    place(60, 0, 30, { x: 0, y: 1, z: 0 }),
    place(240, 0, 30, { x: 0, y: 1, z: 0 }),
    place(0, 100, 30, { x: 1, y: 0, z: 0 }),
  ],
};
const FRICTION = 0.15;
const MATERIAL = 'gjl-250';
const STEP_PA = 1000;

/**
 * The first circuit whose fixture has as many clamps, on a machine of two pallets that nothing else is told about.
 * @param {World} world
 */
const findCircuit = (world) =>
  need(
    world.machines
      .filter(({ spec }) => spec.isPallets && spec.story === undefined)
      .flatMap(({ circuits }) => circuits)
      .find(({ fixture }) => fixture.clamps === PLACES.clamp.length),
    `a fixture of ${PLACES.clamp.length} clamps`,
  );

/**
 * Gives one fixture its places and an operation whose required pressure is computed from its cut.
 * @param {World} world
 */
export async function addComputedCut(world) {
  const { rows, random } = world;
  const circuit = findCircuit(world);
  const fixture = need(
    rows.fixtures.find(({ id }) => id === circuit.fixture.id),
    'its fixture',
  );
  fixture.elements = toStoredElements(
    fixture.elements.map((element) => {
      const places = PLACES[element.kind];
      const placed = { ...element, quantity: places.length, frictionCoefficient: FRICTION, places };
      // Two of them may come to bear what all clamps press and the cutter tips.
      return element.kind === 'support' ? { ...placed, ratedForce: { value: 18, unit: 'kN' } } : placed;
    }),
  );
  const { kc11Pa, mc } = need(
    CUTTING_MATERIALS.find(({ id }) => id === MATERIAL),
    MATERIAL,
  );
  const points = [50, 90, 130, 170, 210, 250].map((x) => ({ x: mm(x), y: mm(100), z: mm(60) }));
  /** @type {Cut} */
  const cut = {
    method: 'milling',
    materialGroup: MATERIAL,
    kc11: { value: kc11Pa / 1e6, unit: 'N/mm2' },
    mc,
    kc: null,
    diameter: mm(63),
    teeth: 6,
    feed: mm(0.15),
    axialDepth: mm(0.8),
    radialWidth: mm(45),
    engagement: 'centred',
    leadAngle: { value: 45, unit: 'deg' },
    pitch: null,
    pointAngle: null,
    wear: 1.3,
    radialRatio: 0.4,
    axialForce: { value: -200, unit: 'N' },
    directions: null,
    thrustFactor: null,
    breakthroughRatio: null,
    points,
    toolAxis: DOWN,
    workpieceMass: { value: 12, unit: 'kg' },
    centreOfMass: { x: mm(150), y: mm(100), z: mm(30) },
    gravity: DOWN,
    otherGravities: [],
    indexingSpeed: null,
    indexingAcceleration: null,
    indexingRadius: null,
    workpieceRadius: null,
    specificForceSpread: null,
    frictionSpread: null,
    safetyFactor: 2,
    coneFacets: 8,
  };
  const result = requiredOfCut({
    cut: toCutFigures(cut),
    elements: toHoldingElements(fixture.elements),
    solver: await loadSolver(),
  });
  const at = circuit.fixture.fittedAt;
  if (result.requiredPressurePa === null) throw new Error('the scenario has a cut that its clamps cannot hold');
  const requiredBar = Math.ceil(result.requiredPressurePa / STEP_PA) / 100;
  rows.operations.push({
    customer_id: circuit.key.customer_id,
    id: random.id(at),
    fixture_id: fixture.id,
    number: 90,
    name: 'Face flange, finishing',
    tool: 'Face mill 63, six teeth',
    material: 'EN-GJL-250',
    cut: { cut, computed: { ...result, calculationVersion: CALCULATION_VERSION }, typedRequired: null },
    ...columns('required_pressure', 'pa', q(requiredBar, 'bar')),
    required_basis: 'computed',
    required_source: `operation-required-pressure ${CALCULATION_VERSION}`,
    ...columns('workpiece_limit', 'pa', null),
    workpiece_not_limiting: true,
    not_limiting_reason: 'solid part, clamped over its supports',
    not_limiting_by: 'Ines Tavoa',
    valid_from: at,
    valid_to: null,
    recorded_by: world.engineer.id,
    version: 1,
  });
}
