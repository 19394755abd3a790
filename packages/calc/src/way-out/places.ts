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
const listFigures = (levers: Levers, code: SettingCode): WayOutChange[] =>
  [...levers].flatMap(([one, { lever, lowest, highest }]) => {
    if (one !== code) return [];
    const from = Number(lever.from);
    const least = Math.ceil(Math.max(lowest, NEAREST * from) / STEP_PA);
    const most = Math.floor(Math.min(highest, FURTHEST * from) / STEP_PA);
    return Array.from({ length: Math.max(0, most - least + 1) }, (_, index) => (least + index) * STEP_PA)
      .sort((a, b) => Math.abs(a - from) - Math.abs(b - from))
      .map((figure) => ({ ...lever, lowest: figure, highest: figure }));
  });

/** Where it was read: there, and nowhere else, what was measured counts. */
function listAsRead({ settings: { readings } }: CircuitFacts, levers: Levers): Place[] {
  const [setting, air] = [levers.get('setting'), levers.get('air-pressure')];
  const settingPa = readings?.settingPa;
  if (setting === undefined || settingPa == null) return [];
  const begun = [
    { ...setting.lever, lowest: settingPa, highest: settingPa },
    // Without air pressure to set, or to go by, it is looked at as it is.
    ...[air].flatMap((airSetting) => {
      const readAirPa = readings?.airPressurePa;
      return airSetting === undefined || readAirPa == null
        ? []
        : [{ ...airSetting.lever, lowest: readAirPa, highest: readAirPa }];
    }),
  ].filter(({ from, lowest }) => from !== lowest);
  return [{ begun, fixed: ['setting', 'air-pressure'], isAsRead: true }];
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
