import { asItStands } from '../src/circuit-facts/reading-conditions.js';
import { Prover } from '../src/way-out/prover.js';
import { SETTING_RULES, type SettingCode, type SettingRule } from '../src/way-out/setting-levers.js';
import { SettingsSearch } from '../src/way-out/settings-search.js';
import { aRandomCircuit, seeded } from './facts-builder.js';

/** Of some a rule was once said to be served the other way: what was told to leave no room then left some. */
const SEEDS = [
  15,
  26,
  31,
  49,
  53,
  84,
  106,
  123,
  144,
  188,
  203,
  255,
  301,
  ...Array.from({ length: 12 }, (_, k) => 400 + k),
];
/** What its cylinders do takes long to find out; another test follows it. */
const isQuick = ({ rule }: SettingRule): boolean => rule !== 'clamping-time' && rule !== 'order-and-speed';

/** The levers of a circuit at places such as are set, one drawn after the other. */
function* listPoints(search: SettingsSearch, seed: number): Generator<Map<SettingCode, number>> {
  const random = seeded(seed + 424_242);
  for (let count = 0; count < 6; count += 1) {
    const setting = 60 + Math.round(random() * 260);
    yield new Map(
      [...search.levers].map(([code, { lowest, highest, step }]) => {
        const [low, high] = [Math.ceil(lowest / step), Math.floor(highest / step)];
        const share = random();
        const isPressure = code === 'switch' || code === 'set-point' || code === 'pump-restart';
        const steps = isPressure
          ? setting * (0.6 + 0.5 * share)
          : code === 'setting'
            ? setting
            : low + (high - low) * share;
        return [code, Math.min(high, Math.max(low, Math.round(steps)))];
      }),
    );
  }
}

/** Rules that are kept at one figure of a lever and not at another, against the way in which it is said to serve them. */
function listContradicted(search: SettingsSearch, point: Map<SettingCode, number>): string[] {
  return [...search.levers].flatMap(([code, { lowest, highest, step }]) => {
    const [low, high] = [Math.ceil(lowest / step), Math.floor(highest / step)];
    const here = Number(point.get(code));
    const others = [low, high, ...[0.8, 0.93, 1.07, 1.25].map((factor) => Math.round(here * factor))];
    const near = others.map((steps) => Math.min(high, Math.max(low, steps)));
    return SETTING_RULES.filter(isQuick).flatMap((rule) => {
      const way = rule.wants[code] ?? 1;
      if (way === 0) return [];
      const isKept = (steps: number): boolean => search.isKept(rule, new Map(point).set(code, steps));
      return near
        .filter((steps) => (way === 1 ? steps < here : steps > here) && isKept(steps) && !isKept(here))
        .map((steps) => `${rule.rule}: ${code} ${here} to ${steps}`);
    });
  });
}

test('whatever else is set, a rule of settings is served the way that it tells', () => {
  const contradicted = SEEDS.flatMap((seed) => {
    const search = new SettingsSearch(new Prover(), asItStands(aRandomCircuit(seed)), []);
    return [...listPoints(search, seed)].flatMap((point) =>
      listContradicted(search, point).map((what) => `${seed} ${what}`),
    );
  });
  expect(contradicted).toEqual([]);
});
