import type { QuantityKind } from '@repo/quantity';

interface Entry {
  /** as its form asks for it; heads its column, behind the name of what it belongs to */
  readonly label: string;
}
export interface QuantityEntry extends Entry {
  readonly type: 'quantity';
  readonly kind: QuantityKind;
  /** in which a form takes a bare number */
  readonly unit: string;
  readonly zero?: true;
  readonly negative?: true;
}
interface NumberEntry extends Entry {
  readonly type: 'number';
  readonly least: number;
  readonly most: number;
  readonly isWhole?: true;
}
interface ChoiceEntry extends Entry {
  readonly type: 'choice';
  readonly choices: readonly [string, ...string[]];
}
/** Where something is, or where to: in one cell; of `points` and `directions` several. */
interface PlaceEntry extends Entry {
  readonly type: 'group' | 'point' | 'points' | 'direction' | 'directions';
  /** of points and directions: how many; of a group: how long its name is */
  readonly most: number;
}
export type CutEntry = QuantityEntry | NumberEntry | ChoiceEntry | PlaceEntry;

const length = (label: string, rest: { zero?: true } = {}) =>
  ({ type: 'quantity', kind: 'length', unit: 'mm', label, ...rest }) as const;
const share = (label: string, least: number, most: number) => ({ type: 'number', label, least, most }) as const;
const whole = (label: string, least: number, most: number) =>
  ({ type: 'number', label, least, most, isWhole: true }) as const;

/** The figures of a cut, each once: what the door takes, what its column is, and in which unit a form asks. */
export const CUT_FIGURES = {
  method: { type: 'choice', label: 'Method', choices: ['milling', 'drilling', 'tapping'] },
  materialGroup: { type: 'group', label: 'Material group', most: 60 },
  kc11: { type: 'quantity', label: 'Specific cutting force kc1.1', kind: 'stress', unit: 'N/mm2' },
  mc: share('Exponent mc', 0, 1),
  kc: { type: 'quantity', label: 'Specific cutting force', kind: 'stress', unit: 'N/mm2' },
  diameter: length('Diameter of the tool'),
  teeth: whole('Teeth', 1, 100),
  feed: length('Feed'),
  axialDepth: length('Axial depth', { zero: true }),
  radialWidth: length('Radial width'),
  engagement: { type: 'choice', label: 'Engagement', choices: ['up', 'down', 'centred'] },
  leadAngle: { type: 'quantity', label: 'Cutting edge angle', kind: 'angle', unit: 'deg' },
  pitch: length('Pitch of the thread'),
  pointAngle: { type: 'quantity', label: 'Point angle', kind: 'angle', unit: 'deg' },
  wear: share('Wear factor', 0, 10),
  radialRatio: share('Radial over tangential force', 0, 10),
  axialForce: {
    ...{ type: 'quantity', label: 'Force along the tool axis', kind: 'force', unit: 'N' },
    ...{ zero: true, negative: true },
  },
  directions: whole('Directions of feed tried at each point', 4, 72),
  thrustFactor: share('Factor on the thrust', 0, 10),
  breakthroughRatio: share('Pull at breakthrough', 0, 10),
  points: { type: 'points', label: 'Points of the path, or holes', most: 100 },
  toolAxis: { type: 'direction', label: 'Tool axis', most: 1 },
  workpieceMass: { type: 'quantity', label: 'Mass of the workpiece', kind: 'mass', unit: 'kg', zero: true },
  centreOfMass: { type: 'point', label: 'Centre of mass', most: 1 },
  gravity: { type: 'direction', label: 'Direction of the weight', most: 1 },
  otherGravities: { type: 'directions', label: 'Further directions of the weight', most: 5 },
  indexingSpeed: {
    ...{ type: 'quantity', label: 'Highest angular speed' },
    ...{ kind: 'angular-speed', unit: 'deg/s', zero: true },
  },
  indexingAcceleration: {
    ...{ type: 'quantity', label: 'Highest angular acceleration' },
    ...{ kind: 'angular-acceleration', unit: 'deg/s2', zero: true },
  },
  indexingRadius: length('Workpiece from the axis, at most', { zero: true }),
  workpieceRadius: length('Reach of the workpiece'),
  specificForceSpread: share('Specific cutting force may be off by ±', 0, 1),
  frictionSpread: share('Friction may be off by ±', 0, 0.9),
  safetyFactor: share('Safety factor', 1, 20),
  coneFacets: whole('Edges of the friction cones', 4, 32),
} as const satisfies Readonly<Record<string, CutEntry>>;
export type CutFigure = keyof typeof CUT_FIGURES;

/** How the cut is made decides which figures count. */
export const CUT_FIGURES_OF_METHOD = {
  milling: [
    'materialGroup',
    'kc11',
    'mc',
    'diameter',
    'teeth',
    'feed',
    'axialDepth',
    'radialWidth',
    'engagement',
    'leadAngle',
    'wear',
    'radialRatio',
    'axialForce',
    'directions',
  ],
  drilling: ['materialGroup', 'kc11', 'mc', 'diameter', 'feed', 'pointAngle', 'thrustFactor', 'breakthroughRatio'],
  tapping: ['kc', 'pitch', 'diameter', 'wear', 'axialForce'],
} as const satisfies Readonly<Record<(typeof CUT_FIGURES.method.choices)[number], readonly CutFigure[]>>;

/** What helps to fill in others, or may be left out. */
const OPTIONAL: ReadonlySet<CutFigure> = new Set(['materialGroup', 'directions']);
const OF_ANY_METHOD = [
  'points',
  'toolAxis',
  'workpieceMass',
  'centreOfMass',
  'gravity',
  'safetyFactor',
  'coneFacets',
] as const;

/** What a cut lacks before a pressure can be computed from it: what it asks for while nothing of it turns. */
export function listLackingOfCut(
  cut: { readonly method: keyof typeof CUT_FIGURES_OF_METHOD } & Readonly<Partial<Record<CutFigure, unknown>>>,
): CutFigure[] {
  const ofMethod: readonly CutFigure[] = CUT_FIGURES_OF_METHOD[cut.method];
  return [...ofMethod.filter((name) => !OPTIONAL.has(name)), ...OF_ANY_METHOD].filter((name) => {
    const value = cut[name] ?? null;
    return value === null || (Array.isArray(value) && value.length === 0);
  });
}
