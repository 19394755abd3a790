import type { Figures } from './figure.types.js';

export const FIXTURE_FIGURES = {
  ratedPressure: {
    type: 'quantity',
    kind: 'pressure',
    worse: 'lower',
    column: { header: 'Fixture rated pressure', synonyms: ['fixture rating'] },
    field: { group: 'main' },
  },
} as const satisfies Figures;

/** Of a clamp both ways: more oil to move, and more force; times, volumes, areas and contact go different ways. */
const EITHER = { clamp: 'either', support: 'either' } as const;

/** What is said of a clamp, support or locator of a fixture beside its name, its number and its places. */
export const ELEMENT_FIGURES = {
  ratedPressure: {
    type: 'quantity',
    kind: 'pressure',
    // A support carries its rated load at its rated pressure: rated lower, it bears less and carries sooner.
    worse: { clamp: 'lower', support: 'either' },
    notBelow: 'leastWorkingPressure',
    column: { header: 'Rated pressure' },
    field: { group: 'main' },
  },
  leastWorkingPressure: {
    type: 'quantity',
    kind: 'pressure',
    worse: { clamp: 'higher', support: 'higher' },
    column: { header: 'Least working pressure' },
    field: { group: 'main' },
  },
  bore: {
    type: 'quantity',
    kind: 'length',
    worse: EITHER,
    notBelow: 'rod',
    column: { header: 'Bore', place: 'first' },
    field: { group: 'main', unit: 'mm' },
  },
  rod: {
    type: 'quantity',
    kind: 'length',
    isZeroAllowed: true,
    worse: EITHER,
    column: { header: 'Rod', place: 'first' },
    field: { group: 'main', unit: 'mm' },
  },
  /** of a clamp at its rated pressure; of a support the load that it then carries */
  ratedForce: {
    type: 'quantity',
    kind: 'force',
    worse: { clamp: 'either', support: 'lower' },
    column: { header: 'Rated force' },
    field: { group: 'main', unit: 'kN' },
  },
  form: {
    type: 'choice',
    choices: ['swing-clamp', 'lever-clamp', 'cylinder'],
    // Another form is another way of moving.
    worse: EITHER,
    column: { header: 'Form' },
    field: { group: 'moves' },
  },
  /** oil clamps on its rod side; where nobody has said, as its form does */
  pulls: {
    type: 'answer',
    worse: EITHER,
    column: { header: 'Pulls' },
    field: { group: 'moves' },
  },
  /** pushed back by oil, or by a spring */
  acting: {
    type: 'choice',
    choices: ['single', 'double'],
    worse: EITHER,
    column: { header: 'Acting' },
    field: { group: 'moves' },
  },
  /** until contact */
  stroke: {
    type: 'quantity',
    kind: 'length',
    isZeroAllowed: true,
    worse: EITHER,
    column: { header: 'Stroke', place: 'first' },
    field: { group: 'moves', unit: 'mm' },
  },
  /** single-acting: least force of the spring over the stroke; friction is taken off it */
  springForce: {
    type: 'quantity',
    kind: 'force',
    isZeroAllowed: true,
    worse: EITHER,
    column: { header: 'Spring force' },
    field: { group: 'moves', unit: 'N' },
  },
  /** single-acting: what the spring pushes back with where the clamp meets the workpiece, its most */
  springForceAtContact: {
    type: 'quantity',
    kind: 'force',
    isZeroAllowed: true,
    worse: EITHER,
    column: { header: 'Spring force at contact' },
    field: { group: 'moves', unit: 'N' },
  },
  /** dry friction of piston and guide */
  friction: {
    type: 'quantity',
    kind: 'force',
    isZeroAllowed: true,
    worse: EITHER,
    column: { header: 'Friction' },
    field: { group: 'moves', unit: 'N' },
  },
  viscousFriction: {
    type: 'quantity',
    kind: 'damping',
    worse: EITHER,
    column: { header: 'Viscous friction' },
    field: { group: 'moves', unit: 'N.s/m' },
  },
  /** clamp and workpiece after contact */
  contactStiffness: {
    type: 'quantity',
    kind: 'stiffness',
    worse: EITHER,
    column: { header: 'Contact stiffness' },
    field: { group: 'moves', unit: 'N/mm' },
  },
  /** each clamp alone */
  highestFlow: {
    type: 'quantity',
    kind: 'flow',
    worse: { clamp: 'lower', support: 'either' },
    column: { header: 'Highest flow' },
    field: { group: 'moves', unit: 'L/min' },
  },
  /** what the chart allows at this length of arm */
  armPressure: {
    type: 'quantity',
    kind: 'pressure',
    worse: { clamp: 'lower', support: 'either' },
    column: { header: 'Pressure on the arm' },
    field: { group: 'moves' },
  },
  /** clamping and cutting load upon one support */
  highestLoad: {
    type: 'quantity',
    kind: 'force',
    isZeroAllowed: true,
    worse: { clamp: 'either', support: 'higher' },
    column: { header: 'Highest load' },
    field: { group: 'moves', unit: 'kN' },
  },
  /** of a clamp's pad that is round where it touches the workpiece, both ways or one; a flat one presses at its edges, which no formula tells */
  padForm: {
    type: 'choice',
    choices: ['sphere', 'cylinder'],
    worse: EITHER,
    column: { header: 'Form of the pad' },
    field: { group: 'holds' },
  },
  /** where it touches */
  padRadius: {
    type: 'quantity',
    kind: 'length',
    worse: { clamp: 'lower', support: 'either' },
    usual: [1, 500, 'mm'],
    column: { header: 'Radius of the pad' },
    field: { group: 'holds', unit: 'mm' },
  },
  /** of a cylinder: its line of contact */
  padLength: {
    type: 'quantity',
    kind: 'length',
    worse: { clamp: 'lower', support: 'either' },
    usual: [1, 200, 'mm'],
    column: { header: 'Length of the pad' },
    field: { group: 'holds', unit: 'mm' },
  },
  /** of pad and workpiece together: 1/E = (1 - nu²)/E of the one and of the other */
  contactModulus: {
    type: 'quantity',
    kind: 'modulus',
    worse: { clamp: 'higher', support: 'either' },
    usual: [10, 500, 'GPa'],
    column: { header: 'Contact modulus' },
    field: { group: 'holds', unit: 'GPa' },
  },
  /** highest pressure that the face of the workpiece may see */
  surfacePressureLimit: {
    type: 'quantity',
    kind: 'pressure',
    worse: { clamp: 'lower', support: 'either' },
    usual: [50, 50_000, 'bar'],
    column: { header: 'Surface pressure allowed' },
    field: { group: 'holds' },
  },
  /** between contact and workpiece: what holding is computed from */
  frictionCoefficient: {
    type: 'number',
    least: 0,
    most: 2,
    usual: [0.03, 0.8, '1'],
    column: { header: 'Friction coefficient' },
    field: { group: 'holds' },
  },
  /** largest force that a locator bears */
  forceLimit: {
    type: 'quantity',
    kind: 'force',
    usual: [0.2, 500, 'kN'],
    column: { header: 'Force that it may take' },
    field: { group: 'holds', unit: 'kN' },
  },
} as const satisfies Figures;
