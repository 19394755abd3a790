import { figure } from './quantities.mjs';

const SHEET = 'invented data sheet of the demonstration';

/** What a standard says of a hose by its kind and bore. */
const RATED = new Set(['ratedPressure', 'burstPressure', 'innerDiameter']);

/** @satisfies {SheetFigures} */
const VALVE = { coilTolerance: [0.1, '1'], coilDuty: [1, '1'], ratedFlow: [20, 'L/min'], lossAtRatedFlow: [6, 'bar'] };

/** @typedef {keyof typeof TYPES} ComponentTypeKey the short name that the scenario calls a type by */
/** @typedef {import('@repo/calc/figures').ComponentKind} ComponentKind */
/** @typedef {Partial<Record<import('@repo/calc/figures').ComponentFigureName, [number, import('./quantities.mjs').Unit]>>} SheetFigures */
/** @typedef {[kind: ComponentKind, name: string, figures: SheetFigures, rated?: string]} ComponentTypePlan with the standard that it is rated by */
/** @typedef {import('./rows.types.js').ComponentTypeRow & { name: string, figures: object }} ComponentTypeRow */

/**
 * The invented integrator's component library. One type lacks its rating on purpose.
 * @satisfies {Record<string, ComponentTypePlan>}
 */
const TYPES = {
  pump: [
    'pump',
    'Air-driven pump 40:1',
    {
      ratedPressure: [350, 'bar'],
      pistonRatio: [40, '1'],
      stallEfficiency: [0.98, '1'],
      freeFlow: [3.2, 'L/min'],
      restartTolerance: [3, 'bar'],
    },
  ],
  electricPump: [
    'pump',
    'Electric power unit, 4 L/min',
    {
      ratedPressure: [250, 'bar'],
      freeFlow: [4, 'L/min'],
      highestPressure: [205, 'bar'],
      restartPressure: [160, 'bar'],
      restartTolerance: [4, 'bar'],
    },
  ],
  reservoir: ['reservoir', 'Reservoir, 8 L', { usableVolume: [5.5, 'L'], freeVolume: [1.5, 'L'] }],
  regulator: ['pressure-regulator', 'Air regulator with gauge', { drift: [0.05, 'bar'] }],
  relief: [
    'relief-valve',
    'Relief valve, sealed at 190',
    {
      ratedPressure: [350, 'bar'],
      openingPressure: [190, 'bar'],
      fullFlowPressure: [205, 'bar'],
      openingTolerance: [1, 'bar'],
    },
  ],
  reliefLow: [
    'relief-valve',
    'Relief valve, sealed at 150',
    {
      ratedPressure: [350, 'bar'],
      openingPressure: [150, 'bar'],
      fullFlowPressure: [160, 'bar'],
      openingTolerance: [1, 'bar'],
    },
  ],
  valveDouble: [
    'directional-valve',
    'Directional valve 4/2, ISO 4401-03, two solenoids, detented',
    { ratedPressure: [315, 'bar'], solenoids: [2, '1'], coilPower: [30, 'W'], coilVoltage: [24, 'V'], ...VALVE },
  ],
  checkValve: [
    'check-valve',
    'Pilot-operated check valve',
    { ratedPressure: [315, 'bar'], leastWorkingPressure: [12, 'bar'], pilotRatio: [3, '1'] },
  ],
  sequence: [
    'sequence-valve',
    'Sequence valve, opens at 80',
    { ratedPressure: [315, 'bar'], openingPressure: [80, 'bar'], leastWorkingPressure: [82, 'bar'] },
  ],
  switch: [
    'pressure-switch',
    'Pressure switch, adjustable 20 to 250',
    { ratedPressure: [400, 'bar'], accuracy: [2, 'bar'], deadband: [8, 'bar'], delay: [0.02, 's'] },
  ],
  gauge250: [
    'gauge',
    'Gauge 0 to 250, class 1.6',
    { ratedPressure: [250, 'bar'], span: [250, 'bar'], accuracyClass: [1.6, '1'] },
  ],
  tube: [
    'tube',
    'Tube 12 x 1.5, seamless',
    { ratedPressure: [300, 'bar'], outerDiameter: [12, 'mm'], wall: [1.5, 'mm'] },
  ],
  hose: [
    'hose',
    'Hose DN 6, two wire braids (2SN)',
    {
      ratedPressure: [400, 'bar'],
      burstPressure: [1600, 'bar'],
      innerDiameter: [6.3, 'mm'],
      expansionModulus: [1400, 'MPa'],
    },
    'EN 853, type 2SN, DN 6 (from memory)',
  ],
  hoseOneBraid: [
    'hose',
    'Hose DN 6, one wire braid (1SN)',
    {
      ratedPressure: [225, 'bar'],
      burstPressure: [900, 'bar'],
      innerDiameter: [6.3, 'mm'],
      expansionModulus: [1100, 'MPa'],
    },
    'EN 853, type 1SN, DN 6 (from memory)',
  ],
  hoseTextile: [
    'hose',
    'Hose DN 6, textile braid (3TE)',
    {
      ratedPressure: [145, 'bar'],
      burstPressure: [580, 'bar'],
      innerDiameter: [6.3, 'mm'],
      expansionModulus: [500, 'MPa'],
    },
    'EN 854, type 3TE, DN 6 (from memory)',
  ],
  rotaryUnion: ['rotary-union', 'Rotary union, four passages', { ratedPressure: [240, 'bar'], passages: [4, '1'] }],
  throughTable: [
    'through-table-coupling',
    'Through-table supply, two passages',
    { ratedPressure: [250, 'bar'], passages: [2, '1'] },
  ],
  manifold: ['manifold', 'Gauge manifold, aluminium', { ratedPressure: [250, 'bar'] }],
  manifoldUnrated: ['manifold', 'Distribution block, customer made', {}],
  coupling: ['quick-coupling', 'Quick coupling, flat face', { ratedPressure: [300, 'bar'] }],
  relay: ['relay', 'Relay 24 V, two contacts', { coilVoltage: [24, 'V'], contactVoltage: [250, 'V'] }],
  supply: ['power-supply', 'Power supply 24 V, 120 W', { ratedPower: [120, 'W'], peakPower: [180, 'W'] }],
};

const KEYS = /** @type {ComponentTypeKey[]} */ (Object.keys(TYPES));

/**
 * Component types as rows, and their ids by the short names used in the scenario.
 * @param {import('./random.mjs').Random} random
 * @param {Date} at
 */
export function buildLibrary(random, at) {
  /** @type {ComponentTypeRow[]} */
  const rows = [];
  const ids = /** @type {Record<ComponentTypeKey, string>} */ ({});
  for (const key of KEYS) {
    /** @type {ComponentTypePlan} */
    const [kind, name, figures, standard] = TYPES[key];
    const id = random.id(at);
    ids[key] = id;
    rows.push({
      id,
      kind,
      name,
      part_number: `DEMO-${String(rows.length + 101)}`,
      figures: Object.fromEntries(
        Object.entries(figures).map(([figureName, [value, unit]]) => [
          figureName,
          figure(value, unit, RATED.has(figureName) && standard !== undefined ? standard : SHEET),
        ]),
      ),
      note: 'Invented for the demonstration.',
      revision: 1,
      created_at: at,
      version: 1,
    });
  }
  return { ids, rows };
}
