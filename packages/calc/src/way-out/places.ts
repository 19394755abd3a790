import type { CircuitFacts } from '../circuit-facts/circuit-facts.types.js';
import type { SettingCode, SettingLever } from './setting-levers.js';
import { BAR } from './steps.js';
import type { WayOutChange } from './way-out.types.js';

const STEP_PA = 10 * BAR;
/** No further from what is set than anything of a circuit is asked for. */
const NEAREST = 0.5;
const FURTHEST = 1.7;

/** A setting that a circuit could have. */
export interface Place {
  /** what is changed for it */
  readonly begun: readonly WayOutChange[];
  /** what then stays as it is */
  readonly fixed: readonly SettingCode[];
  readonly isAsRead: boolean;
}
/** Nothing is changed, and every setting is free. */
export const AS_IT_IS: Place = { begun: [], fixed: [], isAsRead: false };
type Levers = ReadonlyMap<SettingCode, SettingLever>;

/** A setting at some figures, the nearest to what it is first. */
function listFigures(levers: Levers, code: SettingCode): WayOutChange[] {
  const setting = levers.get(code);
  if (setting === undefined) return [];
  const { lever, lowest, highest } = setting;
  const from = Number(lever.from);
  const least = Math.ceil(Math.max(lowest, NEAREST * from) / STEP_PA);
  const most = Math.floor(Math.min(highest, FURTHEST * from) / STEP_PA);
  return Array.from({ length: Math.max(0, most - least + 1) }, (_, index) => (least + index) * STEP_PA)
    .sort((a, b) => Math.abs(a - from) - Math.abs(b - from))
    .map((figure) => ({ ...lever, lowest: figure, highest: figure }));
}

/** Where it was read: there, and nowhere else, what was measured counts. */
function listAsRead({ settings: { inUse, readings } }: CircuitFacts, levers: Levers): Place[] {
  const read = [
    ['setting', inUse?.settingPa, readings?.settingPa],
    ['air-pressure', inUse?.airPressurePa, readings?.airPressurePa],
  ] as const;
  const begun = read.flatMap(([code, isPa, wasPa]) => {
    const setting = levers.get(code);
    if (setting === undefined || wasPa == null || isPa === wasPa) return [];
    return [{ ...setting.lever, lowest: wasPa, highest: wasPa }];
  });
  const isThere = read.every(
    ([code, isPa, wasPa]) => (isPa ?? null) === (wasPa ?? null) || begun.some((one) => one.code === code),
  );
  return isThere && readings !== null ? [{ begun, fixed: ['setting', 'air-pressure'], isAsRead: true }] : [];
}

/** As it was read first, then each setting. */
export const listPlaces = (facts: CircuitFacts, levers: Levers): Place[] => [
  ...listAsRead(facts, levers),
  ...listFigures(levers, 'setting').map((change): Place => ({ begun: [change], fixed: ['setting'], isAsRead: false })),
];

/** A place with its switch at each figure. */
export const listSwitches = (place: Place, levers: Levers): Place[] => [
  { ...place, fixed: [...place.fixed, 'switch'] },
  ...listFigures(levers, 'switch').map((change) => ({
    ...place,
    begun: [...place.begun, change],
    fixed: [...place.fixed, 'switch' as const],
  })),
];
