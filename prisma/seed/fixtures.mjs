import { toStoredElements, toWholeElements } from '@repo/api/seeding';
import { bar, columns, q } from './quantities.mjs';

/** @typedef {import('./quantities.mjs').Quantity} Quantity */
/** @typedef {import('./rows.types.js').StationRow} StationRow */
/** @typedef {import('./world.types.js').World} World */
/** @typedef {Parameters<typeof toStoredElements>[0][number]} Element a clamp, support or locator as it is sent */

/** @type {readonly [name: string, tool: string][]} */
const OPERATIONS = [
  ['Rough face and bore', 'Face mill 63, six teeth'],
  ['Drill and tap pattern', 'Drill 8.5, tap M10'],
  ['Finish bore', 'Boring bar 40'],
  ['Contour flange', 'End mill 20, four teeth'],
];

/** Swing clamps and supports as on an invented data sheet. */
const CLAMP = {
  form: 'swing-clamp',
  acting: 'double',
  ratedPressure: bar(250),
  bore: q(25, 'mm'),
  rod: q(16, 'mm'),
  stroke: q(12, 'mm'),
  friction: q(80, 'N'),
  viscousFriction: q(400, 'N.s/m'),
  contactStiffness: q(20_000_000, 'N/m'),
  ratedForce: q(4.2, 'kN'),
  highestFlow: q(1.5, 'L/min'),
  armPressure: bar(250),
};
const SUPPORT = {
  acting: 'single',
  ratedPressure: bar(300),
  leastWorkingPressure: bar(70),
  bore: q(16, 'mm'),
  stroke: q(6, 'mm'),
  springForce: q(90, 'N'),
  friction: q(20, 'N'),
  viscousFriction: q(300, 'N.s/m'),
  contactStiffness: q(15_000_000, 'N/m'),
  ratedForce: q(7.5, 'kN'),
  highestLoad: q(2, 'kN'),
};

/**
 * @typedef {object} OperationPlan
 * @property {string} customerId
 * @property {string} fixtureId
 * @property {number} number
 * @property {string} name
 * @property {string} tool
 * @property {Date} at
 * @property {number | null} required bar; null: nobody knows
 * @property {number} [limit] bar; absent: the workpiece bears any pressure
 * @property {string} [material]
 */

/**
 * What was typed of each figure; the API stores its SI value beside.
 * @param {Record<string, Quantity | string>} figures
 */
const asTyped = (figures) =>
  Object.fromEntries(
    Object.entries(figures).map(([name, figure]) => [name, typeof figure === 'string' ? figure : figure.entered]),
  );

/**
 * A fixture with its clamps and supports, fitted to a station from an instant, and the operations that it holds.
 * @param {World} world
 * @param {StationRow} station
 * @param {Date} at
 * @param {import('./world.types.js').FixturePlan} plan
 */
export function addFixture(world, station, at, { rating, required, limit, notRated, name, reason }) {
  const { random, rows } = world;
  const id = random.id(at);
  world.fixtureCount += 1;
  const clamps = random.pick([4, 6, 8]);
  /**
   * @param {Element['kind']} kind
   * @param {string} name
   * @param {number} quantity
   * @param {Record<string, Quantity | string>} figures
   */
  const element = (kind, name, quantity, figures) => ({ id: random.id(at), kind, name, quantity, ...asTyped(figures) });
  rows.fixtures.push({
    customer_id: station.customer_id,
    id,
    name: name ?? `F-${100 + world.fixtureCount}`,
    description: 'Swing clamps and work supports on a base plate',
    ...columns('rated_pressure', 'pa', notRated ? null : bar(rating)),
    rated_pressure_source: notRated ? '' : 'fixture drawing (invented)',
    elements: toStoredElements(
      toWholeElements([
        element('clamp', 'Swing clamps', clamps, CLAMP),
        element('support', 'Work supports', random.pick([2, 4]), SUPPORT),
        element('locator', 'Locators', 3, {}),
      ]),
    ),
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
  const planned = OPERATIONS.slice(0, random.whole(1, 3));
  for (const [index, [operation, tool]] of planned.entries()) {
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
  return { id, fittedAt: at, clamps };
}

/**
 * @param {World} world
 * @param {OperationPlan} plan
 */
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
    cut: {},
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
