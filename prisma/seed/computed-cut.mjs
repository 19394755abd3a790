import { CALCULATION_VERSION } from '@repo/api/seeding';
import { CUTTING_MATERIALS, requiredOfCut } from '@repo/calc';
import { loadSolver } from '@repo/calc/solver';
import { columns, q } from './quantities.mjs';

const UP = { x: 0, y: 0, z: 1 };
const DOWN = { x: 0, y: 0, z: -1 };
const mm = (value) => ({ value, unit: 'mm' });
const place = (x, y, z, direction) => ({ x: mm(x), y: mm(y), z: mm(z), direction });

/** Where the pieces of an invented fixture touch a flange of 300 by 200 by 60 mm. */
const PLACES = {
  clamp: [place(30, 30, 60, DOWN), place(270, 30, 60, DOWN), place(30, 170, 60, DOWN), place(270, 170, 60, DOWN)],
  support: [place(80, 100, 0, UP), place(220, 100, 0, UP)],
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

const pointOf = ({ x, y, z }) => [x.value / 1e3, y.value / 1e3, z.value / 1e3];
const vectorOf = ({ x, y, z }) => [x, y, z];

/** The first machine of two pallets that nothing else is told about. */
const findMachine = (world) => world.machines.find(({ spec }) => spec.isPallets && spec.story === undefined);

/** Gives one fixture its places and an operation whose required pressure is computed from its cut. */
export async function addComputedCut(world) {
  const { rows, random } = world;
  const [circuit] = findMachine(world).circuits;
  const fixture = rows.fixtures.find(({ id }) => id === circuit.fixture.id);
  for (const element of fixture.elements) {
    const places = PLACES[element.kind];
    Object.assign(element, { quantity: places.length, frictionCoefficient: FRICTION, places });
    element.si.places = places.map((one) => ({ pointM: pointOf(one), direction: vectorOf(one.direction) }));
  }
  const { kc11Pa, mc } = CUTTING_MATERIALS.find(({ id }) => id === MATERIAL);
  const points = [50, 90, 130, 170, 210, 250].map((x) => ({ x: mm(x), y: mm(100), z: mm(60) }));
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
    directions: 8,
    thrustFactor: null,
    breakthroughRatio: null,
    points,
    toolAxis: DOWN,
    workpieceMass: { value: 12, unit: 'kg' },
    centreOfMass: { x: mm(150), y: mm(100), z: mm(30) },
    gravity: DOWN,
    safetyFactor: 2,
    coneFacets: 8,
  };
  const result = requiredOfCut({
    cut: {
      method: cut.method,
      kc11Pa,
      mc,
      kcPa: null,
      diameterM: 0.063,
      teeth: cut.teeth,
      feedM: 0.00015,
      axialDepthM: 0.0008,
      radialWidthM: 0.045,
      engagement: cut.engagement,
      leadAngleRad: Math.PI / 4,
      pitchM: null,
      pointAngleRad: null,
      wear: cut.wear,
      radialRatio: cut.radialRatio,
      axialForceN: cut.axialForce.value,
      directions: cut.directions,
      thrustFactor: null,
      breakthroughRatio: null,
      pointsM: points.map(pointOf),
      toolAxis: vectorOf(cut.toolAxis),
      partMassKg: cut.workpieceMass.value,
      centreOfMassM: pointOf(cut.centreOfMass),
      gravity: vectorOf(cut.gravity),
      safetyFactor: cut.safetyFactor,
      coneFacets: cut.coneFacets,
    },
    elements: fixture.elements.map(({ id, name, kind, quantity, frictionCoefficient, si }) => ({
      ...{ id, name, kind, quantity, frictionCoefficient },
      ratedForceN: si.ratedForceN,
      ratedPressurePa: si.ratedPressurePa,
      forceLimitN: si.forceLimitN,
      places: si.places,
    })),
    solver: await loadSolver(),
  });
  const at = circuit.fixture.fittedAt;
  const bar = Math.ceil(result.requiredPressurePa / STEP_PA) / 100;
  rows.operations.push({
    customer_id: circuit.key.customer_id,
    id: random.id(at),
    fixture_id: fixture.id,
    number: 90,
    name: 'Face flange, finishing',
    tool: 'Face mill 63, six teeth',
    material: 'EN-GJL-250',
    cut: { cut, computed: { ...result, calculationVersion: CALCULATION_VERSION }, typedRequired: null },
    ...columns('required_pressure', 'pa', q(bar, 'bar')),
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
