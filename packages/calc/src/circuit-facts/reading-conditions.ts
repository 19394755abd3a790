import { gaugeError, GAUGE_REFERENCE_K } from '../gauges/gauge-error.js';
import { toViscosityAt } from '../oil/oil-viscosity.js';
import type {
  ChangedComponent,
  CircuitFacts,
  ComponentKind,
  FixtureElementFacts,
  PowerUnitFacts,
  ReadingFacts,
  SettingsFacts,
} from './circuit-facts.types.js';
import type { ThermalFigures } from '../pressure-ladder/pressure-ladder.types.js';
import { listSettingGauges, mayBeIn, WITHOUT_PRESSURE } from './component-figures.js';
import { toOil } from './oil-input.js';

/** What makes the working setting, and what it was read on. */
const MAKES_SETTING: ReadonlySet<ComponentKind> = new Set(['pump', 'pressure-regulator', 'reducing-valve', 'gauge']);
const MAKES_AIR: ReadonlySet<ComponentKind> = new Set(['pressure-regulator']);
const MAKES_SWITCH_POINTS: ReadonlySet<ComponentKind> = new Set(['pressure-switch', 'gauge']);
const MAKES_RESTART: ReadonlySet<ComponentKind> = new Set(['pump', 'gauge']);

const changedOf = ({ settings: { readings } }: CircuitFacts): readonly ChangedComponent[] => readings?.changed ?? [];

/** A relief that is known to sit away from the clamps has no part in a leak, a time or a pull, nor has what no oil under pressure is in. */
const bearsOnReadings = (changed: ChangedComponent): boolean =>
  !WITHOUT_PRESSURE.has(changed.kind) && (changed.kind !== 'relief-valve' || mayBeIn(changed, 'clamp'));

/** Nothing that a reading depends on was fitted or taken away since. */
const isSameHardware = (facts: CircuitFacts): boolean => !changedOf(facts).some(bearsOnReadings);

/** What of a clamp or support oil has to do with. */
const MOVES = ['quantity', 'form', 'acting', 'pulls', 'boreM', 'rodM', 'strokeM'] as const;

/** One that is there now is the one of that day: nothing that was known then is known otherwise. What has been filled in since changes nothing. */
const isSameElement = (read: FixtureElementFacts, now: FixtureElementFacts): boolean =>
  read.kind === now.kind &&
  MOVES.every((name) => read[name] === null || now[name] === null || read[name] === now[name]);

/** Clamps and supports of a fixture are those that it had: each goes by its id, one that was typed anew by what it is. */
function areSameElements(read: readonly FixtureElementFacts[], now: readonly FixtureElementFacts[]): boolean {
  const [before, after] = [read, now].map((elements) => elements.filter(({ kind }) => kind !== 'locator')) as [
    FixtureElementFacts[],
    FixtureElementFacts[],
  ];
  const isThere = (element: FixtureElementFacts): boolean => {
    const there = after.find(({ id }) => id === element.id);
    return there === undefined ? after.some((other) => isSameElement(element, other)) : isSameElement(element, there);
  };
  return before.length === after.length && before.every(isThere);
}

/** The fixture of that day is on the station, with the clamps and supports that it had. */
export const isSameFixture = (
  { fixtureId, fixtureElements = null }: ReadingFacts,
  { fixture }: CircuitFacts,
): boolean =>
  fixtureId === (fixture?.id ?? null) &&
  (fixtureElements === null || fixture === null || areSameElements(fixtureElements, fixture.elements));

/** What was read is what stands: same setting, same air, same fixture, same hardware. A time and a neighbour's pull are of these. */
export function isAsRead(facts: CircuitFacts): boolean {
  const { inUse, readings } = facts.settings;
  return (
    readings !== null &&
    readings.settingPa !== null &&
    readings.settingPa === inUse?.settingPa &&
    readings.airPressurePa === inUse.airPressurePa &&
    isSameFixture(readings, facts) &&
    isSameHardware(facts)
  );
}

/** A reading at a temperature this little above the coldest counts as one with the coldest oil. */
const NEARLY_COLD_K = 0.5;

/** It was read as slow as it gets: with oil no warmer than the coldest, and with air that never comes in lower. */
export function isReadAtSlowest({ oilTemperatureK, airPressurePa }: ReadingFacts, powerUnit: PowerUnitFacts): boolean {
  const { drive, plantAirLowPa } = powerUnit;
  const { coldTemperatureK: coldK, workingTemperatureK: workingK } = toOil(powerUnit);
  // Without the other one nobody knows which of the two is the colder.
  const isKnown = oilTemperatureK !== null && coldK !== null && workingK !== null;
  const isCold = isKnown && oilTemperatureK <= coldK + NEARLY_COLD_K;
  const isAirLow = plantAirLowPa !== null && airPressurePa !== null && airPressurePa <= plantAirLowPa;
  return isCold && (drive !== 'air' || isAirLow);
}

/** The switch makes where it made when the times were read. */
export const isSetPointAsRead = ({ setPointPa: readPa }: ReadingFacts, inUse: SettingsFacts | null): boolean =>
  readPa === undefined || (readPa !== null && readPa === inUse?.setPointPa);

/** Where nobody has said, gauges are read where their class is stated, which is shown. */
export const offReferenceOf = ({ gaugeOffReferenceK }: PowerUnitFacts): number => gaugeOffReferenceK ?? 0;

/** The gauge's permissible error by its class, which is stated for 20 °C, and by how far from that it is read; null without the gauge's data. */
export function gaugeErrorOf(
  spanPa: number | null,
  accuracyClass: number | null,
  offReferenceK: number,
): number | null {
  if (spanPa === null || accuracyClass === null) return null;
  return gaugeError({ spanPa, accuracyClass, temperatureK: GAUGE_REFERENCE_K + offReferenceK }).errorPa;
}

/** Error of the gauge that a circuit's readings were taken on; null: not known, or nothing was read. */
export const errorOfReadings = ({ settings: { readings }, powerUnit }: CircuitFacts): number | null =>
  readings === null ? null : gaugeErrorOf(readings.gaugeSpanPa, readings.gaugeClass, offReferenceOf(powerUnit));

/** What was left is set by the gauge of its readings; without one that is fitted, a target is too. */
export const isSetByGaugeOfReadings = ({ settings, components }: CircuitFacts): boolean =>
  settings.isAsLeft || listSettingGauges(components).length === 0;

/** How many times as thick oil was as it was read than it is at work, by which more leaks through a gap then; null: not known. */
export function findThinning(powerUnit: PowerUnitFacts, readAtK: number | null): number | null {
  const { coldTemperatureK, workingTemperatureK } = toOil(powerUnit);
  // Of oil of which nobody has said how warm it was, it was the coldest that there is.
  return toThinning(powerUnit, readAtK ?? coldTemperatureK, workingTemperatureK);
}

/** By how much more leaks once oil at work that is shut in has warmed up. */
export function findWarmThinning(
  powerUnit: PowerUnitFacts,
  temperatureRiseK: number | null,
): NonNullable<ThermalFigures['thinning']> {
  if (temperatureRiseK !== null && temperatureRiseK <= 0) return { ratio: 1, missing: [] };
  const { workingTemperatureK, viscosityAt40M2PerS, viscosityAt100M2PerS } = toOil(powerUnit);
  const isKnown = temperatureRiseK !== null && workingTemperatureK !== null;
  const ratio = isKnown ? toThinning(powerUnit, workingTemperatureK, workingTemperatureK + temperatureRiseK) : null;
  const figures = { temperatureRiseK, workingTemperatureK, viscosityAt40M2PerS, viscosityAt100M2PerS };
  const unknown = Object.entries(figures).filter(([, figure]) => figure === null);
  // Figures that are all there, but are those of no oil: each of them is asked for again.
  const asked = unknown.length > 0 ? unknown : Object.entries(figures);
  return { ratio, missing: ratio === null ? asked.map(([field]) => ({ field, ref: null })) : [] };
}

/** By how much more leaks through a gap at one temperature than at another: the thinner the oil, the more (laminar flow); null: not known. */
function toThinning(powerUnit: PowerUnitFacts, fromK: number | null, toK: number | null): number | null {
  const { viscosityAt40M2PerS: at40, viscosityAt100M2PerS: at100 } = toOil(powerUnit);
  if (fromK === null || toK === null) return null;
  if (fromK >= toK) return 1;
  if (at40 === null || at100 === null) return null;
  const thinning = toViscosityAt(at40, at100, fromK) / toViscosityAt(at40, at100, toK);
  // Figures that no oil has tell nothing.
  return Number.isFinite(thinning) && thinning >= 1 ? thinning : null;
}

/**
 * Of what fell to nothing nobody has seen when it was gone: it may have been as soon as a clock can tell, with no more than a hundredth left
 * after a second (common practice, no source).
 */
const LEAST_LEFT = 0.01;
const SOONEST_S = 1;

/** At the start of a test it fell fastest: a leak through a gap goes with the pressure that is left (laminar flow), p = p0 e^(-kt) [1/s]. */
function fallsBy(fallPa: number, fromPa: number, durationS: number): number {
  const left = 1 - fallPa / fromPa;
  return left > LEAST_LEFT ? -Math.log(left) / durationS : -Math.log(LEAST_LEFT) / Math.min(durationS, SOONEST_S);
}

/**
 * Fall of pressure with the supply shut off [Pa/s], as it was timed with the fixture and the hardware that are fitted; null: it was not. By the
 * gauge it may have been more, by the error of its class; with oil at work it is more than with colder oil. Through a gap it grows with the
 * pressure (laminar flow), so that at a higher setting than that of the reading it is reckoned larger, at a lower one as it was.
 */
export function findDecayRate(facts: CircuitFacts): number | null {
  const { powerUnit } = facts;
  const { inUse, readings } = facts.settings;
  const settingPa = inUse?.settingPa ?? null;
  if (readings === null || settingPa === null || !isSameFixture(readings, facts)) return null;
  const { decayPa, decayDurationS, settingPa: readAtPa, gaugeSpanPa, gaugeClass, oilTemperatureK } = readings;
  if (decayPa === null || decayDurationS === null || readAtPa === null || readAtPa <= 0) return null;
  const errorPa = gaugeErrorOf(gaugeSpanPa, gaugeClass, offReferenceOf(powerUnit));
  const thinning = findThinning(powerUnit, oilTemperatureK);
  if (errorPa === null || thinning === null || !isSameHardware(facts)) return null;
  return fallsBy(decayPa + errorPa, readAtPa, decayDurationS) * thinning * Math.max(settingPa, readAtPa);
}

/**
 * The facts with what was left at the machine as far as it still stands there: what was set and read on a pump, a regulator, a switch or a gauge
 * that was exchanged since is not known of the one that is fitted, until it is read again. What is released as a target is still to be set.
 */
export function asItStands(facts: CircuitFacts): CircuitFacts {
  const { settings } = facts;
  const changed = changedOf(facts);
  if (!settings.isAsLeft || settings.inUse === null || changed.length === 0) return facts;
  const unlessChanged = (kinds: ReadonlySet<ComponentKind>, figure: number | null): number | null =>
    changed.some(({ kind }) => kinds.has(kind)) ? null : figure;
  const { inUse } = settings;
  return {
    ...facts,
    settings: {
      ...settings,
      inUse: {
        ...inUse,
        settingPa: unlessChanged(MAKES_SETTING, inUse.settingPa),
        airPressurePa: unlessChanged(MAKES_AIR, inUse.airPressurePa),
        setPointPa: unlessChanged(MAKES_SWITCH_POINTS, inUse.setPointPa),
        resetPointPa: unlessChanged(MAKES_SWITCH_POINTS, inUse.resetPointPa),
        pumpRestartPa: unlessChanged(MAKES_RESTART, inUse.pumpRestartPa),
      },
    },
  };
}
