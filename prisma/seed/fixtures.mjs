import { columns, q } from './quantities.mjs';

const bar = (value) => q(value, 'bar');
const OPERATIONS = [
  ['Rough face and bore', 'Face mill 63, six teeth'],
  ['Drill and tap pattern', 'Drill 8.5, tap M10'],
  ['Finish bore', 'Boring bar 40'],
  ['Contour flange', 'End mill 20, four teeth'],
];

/** A fixture with its clamps and supports, fitted to a station from an instant, and the operations that it holds. */
export function addFixture(world, station, at, { rating, required, limit, notRated, name, reason }) {
  const { random, rows } = world;
  const id = random.id(at);
  world.fixtureCount += 1;
  const quantity = (value, unit) => q(value, unit).entered;
  const element = (kind, label, count, figures, si) => ({
    id: random.id(at),
    kind,
    name: label,
    quantity: count,
    ratedPressure: null,
    leastWorkingPressure: null,
    bore: null,
    rod: null,
    ratedForce: null,
    ...figures,
    si: { ratedPressurePa: null, leastWorkingPressurePa: null, boreM: null, rodM: null, ...si },
  });
  rows.fixtures.push({
    customer_id: station.customer_id,
    id,
    name: name ?? `F-${100 + world.fixtureCount}`,
    description: 'Swing clamps and work supports on a base plate',
    ...columns('rated_pressure', 'pa', notRated ? null : bar(rating)),
    rated_pressure_source: notRated ? '' : 'fixture drawing (invented)',
    elements: [
      element(
        'clamp',
        'Swing clamps',
        random.pick([4, 6, 8]),
        {
          ratedPressure: quantity(250, 'bar'),
          bore: quantity(25, 'mm'),
          rod: quantity(16, 'mm'),
          ratedForce: quantity(4.2, 'kN'),
        },
        { ratedPressurePa: 25e6, boreM: 0.025, rodM: 0.016 },
      ),
      element(
        'support',
        'Work supports',
        random.pick([2, 4]),
        { ratedPressure: quantity(300, 'bar'), leastWorkingPressure: quantity(70, 'bar') },
        { ratedPressurePa: 30e6, leastWorkingPressurePa: 7e6 },
      ),
      element('locator', 'Locators', 3, {}, {}),
    ],
    note: '',
    created_at: at,
    version: 1,
  });
  rows.fixture_fittings.push({
    customer_id: station.customer_id,
    id: random.id(at),
    fixture_id: id,
    station_id: station.id,
    valid_from: at,
    valid_to: null,
    reason: reason ?? 'first installation',
    recorded_by: world.engineer.id,
    version: 1,
  });
  const count = random.whole(1, 3);
  for (let index = 0; index < count; index += 1) {
    const [operation, tool] = OPERATIONS[index % OPERATIONS.length];
    addOperation(world, {
      customerId: station.customer_id,
      fixtureId: id,
      number: (index + 1) * 10,
      name: operation,
      tool,
      at,
      required: index === 0 || required === null ? required : required - random.whole(6, 22),
      limit: index === 0 ? limit : undefined,
    });
  }
  return { id, fittedAt: at };
}

export function addOperation(
  world,
  { customerId, fixtureId, number, name, tool, at, required, limit, material = '42CrMo4' },
) {
  const isLimited = limit !== undefined;
  world.rows.operations.push({
    customer_id: customerId,
    id: world.random.id(at),
    fixture_id: fixtureId,
    number,
    name,
    tool,
    material,
    ...columns('required_pressure', 'pa', required === null ? null : bar(required)),
    required_basis: 'typed',
    required_source: required === null ? '' : 'clamping calculation of the fixture maker (invented)',
    ...columns('workpiece_limit', 'pa', isLimited ? bar(limit) : null),
    workpiece_not_limiting: !isLimited,
    not_limiting_reason: isLimited ? '' : 'solid part, clamped over its supports',
    not_limiting_by: isLimited ? '' : 'Ines Tavoa',
    valid_from: at,
    valid_to: null,
    recorded_by: world.engineer.id,
    version: 1,
  });
}
