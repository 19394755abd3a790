/** Pressures of a circuit, worked out by hand a second time from what is recorded of it: the rungs that the checks compare. */
import type { CircuitFacts, FixtureElementFacts } from '../../src/index.js';
import { isIn, warmUpOfUnclamp, whetherUnclampBlocks } from './plain-shut-in.js';
import { holdsSource, lowestFullFlow, reliefsOf } from './plain-reliefs.js';
import { add, known, times } from './plain-verdict.js';

type Component = CircuitFacts['components'][number];
export const figure = (component: Component | undefined, name: string): number | null =>
  component?.figures[name] ?? null;
export const fittedOf = (facts: CircuitFacts, kind: Component['kind']): Component | undefined =>
  facts.components.find((component) => component.kind === kind);

/** Of several switches nobody knows which one the control hears: the greatest figure of them counts. */
export function ofSwitches(facts: CircuitFacts, name: 'accuracy' | 'delay'): number | null {
  const all = facts.components
    .filter(({ kind, place }) => kind === 'pressure-switch' && place === 'circuit')
    .map((component) => figure(component, name));
  const stated = all.filter((value) => value !== null);
  return all.length === 0 || stated.length < all.length ? null : Math.max(...stated);
}

/** Whether a clamp pulls by its rod's side: as somebody has said, else as its form does; null: neither is known. */
export const pullsAsSaid = ({
  pulls,
  form,
}: Pick<NonNullable<CircuitFacts['fixture']>['elements'][number], 'pulls' | 'form'>): boolean | null =>
  pulls ?? (form === null ? null : form === 'swing-clamp');

/** Highest and lowest stall of an air-driven pump: ratio * air * efficiency (gauge). Of another drive: not known here. */
export function stallAt(facts: CircuitFacts, airPa: number | null): number | null {
  if (facts.powerUnit.drive !== 'air') return null;
  const pump = fittedOf(facts, 'pump');
  return times(times(figure(pump, 'pistonRatio'), figure(pump, 'stallEfficiency')), airPa);
}

/** A regulator that is set higher than the highest plant air has been given more. */
const highestAir = ({ powerUnit, settings }: CircuitFacts): number | null =>
  powerUnit.plantAirHighPa === null ? null : Math.max(powerUnit.plantAirHighPa, settings.inUse?.airPressurePa ?? 0);

/** Friction in the pump may be less than what it is said to stall by: no higher than its ratio. */
export const highestStall = (facts: CircuitFacts): number | null =>
  facts.powerUnit.drive === 'air' ? times(figure(fittedOf(facts, 'pump'), 'pistonRatio'), highestAir(facts)) : null;

/** Everything with oil under pressure in it changes what was read when it is exchanged; a relief on the pump's side or in the tank line does not. */
const isUnchanged = ({ settings: { readings } }: CircuitFacts): boolean =>
  (readings?.changed ?? []).every(
    ({ kind, lineFunctions: lines }) =>
      kind === 'reservoir' ||
      kind === 'relay' ||
      kind === 'power-supply' ||
      (kind === 'relief-valve' && lines.length > 0 && !lines.includes('clamp')),
  );

/** Readings speak of what is set now only when setting, air, fixture and hardware are those that they were read with. */
export function readingsInForce(facts: CircuitFacts): CircuitFacts['settings']['readings'] {
  const { inUse, readings } = facts.settings;
  if (readings === null || inUse === null || readings.settingPa === null || !isUnchanged(facts)) return null;
  const isSame = readings.settingPa === inUse.settingPa && readings.airPressurePa === inUse.airPressurePa;
  return isSame && isOnItsFixture(facts) ? readings : null;
}

/** Read with the fixture that is on the station, before anything of it was changed. */
function isOnItsFixture({ fixture, settings: { readings } }: CircuitFacts): boolean {
  if (readings === null || readings.fixtureId !== (fixture?.id ?? null)) return false;
  if (fixture === null || readings.fixtureElements == null) return true;
  const moving = (elements: readonly FixtureElementFacts[]) => elements.filter(({ kind }) => kind !== 'locator');
  const [then, now] = [moving(readings.fixtureElements), moving(fixture.elements)];
  const names = ['kind', 'quantity', 'form', 'acting', 'pulls', 'boreM', 'rodM', 'strokeM'] as const;
  const isOther = (a: unknown, b: unknown) => a !== null && b !== null && a !== b;
  const isAlike = (was: FixtureElementFacts, is: FixtureElementFacts) =>
    !names.some((name) => isOther(was[name], is[name]));
  const isKept = (was: FixtureElementFacts) => {
    const itself = now.filter(({ id }) => id === was.id);
    return (itself.length > 0 ? itself : now).some((is) => isAlike(was, is));
  };
  return then.length === now.length && then.every(isKept);
}

/** Read with oil as cold as it gets and with air as low as it gets: nothing is slower. */
export function isReadSlowest(facts: CircuitFacts): boolean {
  const { powerUnit, settings } = facts;
  const { readings } = settings;
  if (readings === null) return false;
  const { plantAirLowPa: low, drive } = powerUnit;
  const { cold, working } = oilTemperatures(facts);
  if (working === null) return false;
  if (readings.oilTemperatureK === null || cold === null || readings.oilTemperatureK > cold + 0.5) return false;
  if (drive !== 'air') return true;
  return readings.airPressurePa !== null && low !== null && low >= readings.airPressurePa;
}

/** As it was left, less what was set on something that was exchanged since: the pump, the regulators, the switch, and the gauge that all was read on. */
export function standing(facts: CircuitFacts): CircuitFacts {
  const { inUse, isAsLeft, readings } = facts.settings;
  if (inUse === null || !isAsLeft) return facts;
  const gone = new Set<string>((readings?.changed ?? []).map(({ kind }) => kind));
  const isGone = (...kinds: string[]) => kinds.some((kind) => gone.has(kind));
  const left = { ...inUse };
  if (isGone('pump', 'pressure-regulator', 'reducing-valve', 'gauge')) left.settingPa = null;
  if (isGone('pressure-regulator')) left.airPressurePa = null;
  if (isGone('pressure-switch', 'gauge')) [left.setPointPa, left.resetPointPa] = [null, null];
  if (isGone('pump', 'gauge')) left.pumpRestartPa = null;
  return { ...facts, settings: { ...facts.settings, inUse: left } };
}

/** EN 837-1: class in per cent of the span, and 0.04 % more for each kelvin from 20 C; the gauge it was set by, else the one that is fitted. */
export function gaugeError(facts: CircuitFacts): number | null {
  const { readings, isAsLeft } = facts.settings;
  const gauges = settingGauges(facts);
  const warmed = 0.04 * known(facts.powerUnit.gaugeOffReferenceK);
  const errorOf = (ofClass: number | null, span: number | null) => times(times(add(ofClass, warmed), 0.01), span);
  if (isAsLeft || gauges.length === 0) return errorOf(readings?.gaugeClass ?? null, readings?.gaugeSpanPa ?? null);
  const errors = gauges.map((gauge) => errorOf(figure(gauge, 'accuracyClass'), figure(gauge, 'span')));
  return errors.includes(null) ? null : Math.max(...errors.map(known));
}

/** What sits in the tank line or the unclamp line shows nothing of the setting; of one that may sit anywhere, that of the power unit may be the one. */
export function settingGauges({ components }: CircuitFacts): readonly Component[] {
  const all = components.filter((one) => one.kind === 'gauge' && (isIn(one, 'clamp') || isIn(one, 'supply')));
  const near = all.filter(({ place }) => place === 'circuit');
  return near.some(({ lineFunctions }) => lineFunctions.length > 0) ? near : all;
}

export interface Setting {
  high: number | null;
  low: number | null;
  settingPa: number | null;
  tolerancePa: number | null;
  /** stall at the lowest plant air of an air-driven pump; the highest that another is made for */
  stallLowPa: number | null;
  /** the setting's own low end, or the stall where that is lower */
  lowest: number | null;
  /** the stall is what holds the circuit down */
  isStarved: boolean;
}

/** As typed; never less than the drift of a reducing valve, or of an air regulator times the pump's ratio. */
function toleranceOf({ components, settings, powerUnit }: CircuitFacts): number | null {
  const typed = settings.inUse?.settingTolerancePa ?? null;
  let most = typed;
  for (const part of components) {
    const drift = figure(part, 'drift');
    if (drift === null || drift === 0 || most === null) continue;
    if (part.kind === 'reducing-valve') most = Math.max(most, drift);
    if (part.kind !== 'pressure-regulator' || powerUnit.drive !== 'air') continue;
    const ratio = figure(
      components.find(({ kind }) => kind === 'pump'),
      'pistonRatio',
    );
    most = ratio === null ? null : Math.max(most, drift * ratio);
  }
  return most;
}

/** Working setting with its tolerance; the lowest a circuit gets is the lesser of setting - tolerance and stall at the lowest plant air. */
export function settingOf(facts: CircuitFacts): Setting {
  const settingPa = facts.settings.inUse?.settingPa ?? null;
  const tolerancePa = toleranceOf(facts);
  const low = add(settingPa, tolerancePa === null ? null : -tolerancePa);
  const [setAirPa, plantAirPa] = [facts.settings.inUse?.airPressurePa ?? null, facts.powerUnit.plantAirLowPa];
  // The regulator gives what it is set to, and no more than comes in.
  const stallLowPa = stallAt(facts, setAirPa === null || plantAirPa === null ? null : Math.min(setAirPa, plantAirPa));
  const isAir = facts.powerUnit.drive === 'air';
  const most = figure(fittedOf(facts, 'pump'), 'highestPressure');
  const lowest = !isAir
    ? low === null
      ? null
      : Math.min(low, most ?? low)
    : low === null || stallLowPa === null
      ? null
      : Math.min(low, stallLowPa);
  // What the source surely lifts to: the stall, or of another drive what it is made for.
  const liftPa = isAir ? stallLowPa : most;
  const isStarved = low !== null && liftPa !== null && liftPa < low;
  return { high: add(settingPa, tolerancePa), low, settingPa, tolerancePa, stallLowPa: liftPa, lowest, isStarved };
}

/** A switch drops out below where it makes, by its deadband: a reset point typed above that is no better. */
export function resetOf({ settings: { inUse }, components }: CircuitFacts): number | null {
  const typed = inUse?.resetPointPa ?? null;
  const setPoint = inUse?.setPointPa ?? null;
  const deadbands = components.map((one) => (one.kind === 'pressure-switch' ? known(figure(one, 'deadband')) : 0));
  const highest = setPoint === null ? null : setPoint - Math.max(0, ...deadbands);
  return typed === null ? null : Math.min(typed, highest ?? typed);
}

/**
 * Largest area upon the unclamp line over that upon the clamp line, of what oil moves both ways: a force F = p_c A_c - p_u A_u needs
 * p_c = F / A_c + p_u A_u / A_c. null: not known of something; 0: nothing moves both ways.
 */
export function opposingAreas({ fixture, components }: CircuitFacts): { atLeast: number; isComplete: boolean } {
  const elements = (fixture?.elements ?? []).filter(({ kind }) => kind !== 'locator');
  const cylinders = components.filter(({ kind, place }) => place === 'circuit' && kind in MOVES);
  if (elements.length === 0 && cylinders.length === 0) return { atLeast: 0, isComplete: false };
  const all = [
    ...elements
      .filter(({ acting }) => acting !== 'single')
      .map((element) => ({ ...element, isPull: element.kind === 'support' ? false : pullsAsSaid(element) })),
    ...cylinders
      .filter((one) => isIn(one, 'unclamp'))
      .map((one) => ({
        ...{ boreM: figure(one, 'bore'), rodM: figure(one, 'rod') },
        isPull: one.kind === 'swing-clamp' || known(figure(one, 'clampsOnRodSide')) > 0,
      })),
  ];
  const ratios = all.map(({ boreM, rodM, isPull }) => {
    if (boreM === null || rodM === null || rodM <= 0 || rodM >= boreM) return null;
    const piston = boreM ** 2;
    const annulus = boreM ** 2 - rodM ** 2;
    return isPull === false ? annulus / piston : piston / annulus;
  });
  return { atLeast: Math.max(0, ...ratios.map(known)), isComplete: !ratios.includes(null) };
}
const MOVES: Readonly<Record<string, true>> = { 'swing-clamp': true, 'lever-clamp': true, cylinder: true, 'work-support': true }; // prettier-ignore

/** Gas filled at 20 C presses in proportion to its absolute temperature; cooler oil is not counted on. */
function gasAtWork(accumulator: Component, facts: CircuitFacts): number | null {
  const absolute = add(figure(accumulator, 'prechargePressure'), 101_325);
  const { working } = oilTemperatures(facts);
  const share = working === null ? null : Math.max(1, working / 293.15);
  return add(times(absolute, share), -101_325);
}

/** Least pressure needed: the worst operation, never below what an element or a valve needs to work at all, and what the return line takes. */
export function requiredPressure(facts: CircuitFacts): { atLeast: number; isComplete: boolean } {
  const ofOperations = facts.operations.map(({ requiredPressurePa }) => requiredPressurePa);
  const ofElements = (facts.fixture?.elements ?? [])
    .filter(({ kind }) => kind === 'support')
    .map(({ leastWorkingPressurePa }) => leastWorkingPressurePa);
  const ofComponents = facts.components
    .filter(({ kind }) => kind === 'sequence-valve' || kind === 'work-support' || kind === 'accumulator')
    .map((one) => (one.kind === 'accumulator' ? gasAtWork(one, facts) : figure(one, 'leastWorkingPressure')));
  const all = [...ofOperations, ...ofElements, ...ofComponents];
  const { atLeast, isComplete } = opposingAreas(facts);
  const { returnPressurePa } = facts.circuit;
  const canBlock = whetherUnclampBlocks(facts);
  // Blocked while clamps press, what is in the unclamp line warms up and presses on their larger side.
  const warm = warmUpOfUnclamp(facts);
  const isCold = canBlock === false || (warm !== null && warm <= 0);
  const isOneWay = isComplete && atLeast === 0;
  const isWarmthKnown = isCold || (canBlock === true && warm !== null);
  const opposing = known(returnPressurePa) + (canBlock === true ? Math.max(0, known(warm)) : 0);
  const isTaken =
    isOneWay || (isWarmthKnown && (opposing === 0 || isComplete) && (returnPressurePa !== null || isOneWay));
  return {
    atLeast: Math.max(0, ...all.map(known)) + atLeast * opposing,
    isComplete: facts.operations.length > 0 && facts.fixture !== null && !all.includes(null) && isTaken,
  };
}

const UNPRESSURED: readonly string[] = ['reservoir', 'relay', 'power-supply'];
const PRESSURED: readonly Component['lineFunctions'][number][] = ['supply', 'clamp', 'unclamp'];

export interface Rating {
  name: string;
  ratedPa: number | null;
  lines: readonly Component['lineFunctions'][number][];
}
/** What temperature, bend and age leave of a hose, each as typed. */
function derated(component: Component): number | null {
  const shares = ['temperatureDerating', 'bendDerating', 'ageDerating'].map((name) => figure(component, name) ?? 1);
  const left = shares.reduce((product, share) => product * Math.min(1, share), 1);
  const most = [figure(component, 'ratedPressure')];
  const burst = figure(component, 'burstPressure');
  if (burst !== null) most.push(0.25 * burst);
  // A gauge shows no more than its span.
  if (component.kind === 'gauge' && figure(component, 'span') !== null) most.push(figure(component, 'span'));
  return times(most[0] === null ? null : Math.min(...most.map(known)), left);
}
/** Ratings of what lies in the tank line and in no other. */
export const ratedInReturn = ({ components }: CircuitFacts): (number | null)[] =>
  components
    .filter(
      ({ kind, lineFunctions: lines }) =>
        !UNPRESSURED.includes(kind) && lines.length > 0 && !lines.some((line) => line !== 'tank'),
    ) // prettier-ignore
    .map(derated);

/** Everything that sees the pressure of the pump, each by its own rating; what lies in the tank line alone, and a locator, see none. */
export function ratings(facts: CircuitFacts): Rating[] {
  const { fixture } = facts;
  const ofFixture =
    fixture === null
      ? []
      : [{ name: fixture.name, ratedPa: fixture.ratedPressurePa, lines: ['clamp', 'unclamp'] as const }];
  const ofElements = (fixture?.elements ?? [])
    .filter(({ kind }) => kind !== 'locator')
    .map(({ name, ratedPressurePa, acting }) => ({
      name,
      ratedPa: ratedPressurePa,
      lines: acting === 'double' ? (['clamp', 'unclamp'] as const) : (['clamp'] as const),
    }));
  const ofComponents = facts.components
    .filter((component) => PRESSURED.some((line) => isIn(component, line)) && !UNPRESSURED.includes(component.kind))
    // A regulator in no line of the oil is one of the air.
    .filter(({ kind, lineFunctions }) => kind !== 'pressure-regulator' || lineFunctions.length > 0)
    .map((component) => ({
      name: component.name,
      ratedPa: derated(component),
      lines: PRESSURED.filter((line) => isIn(component, line)),
    }));
  return [...ofFixture, ...ofElements, ...ofComponents];
}

/**
 * The source's own highest: stall at the highest plant air (wrong knob, creep), or what the lowest relief of its line lets through at full flow; at
 * the clamps one of their own line counts too. Of a drive whose highest is not known the relief's is a bound: good enough to hold, not to fail.
 */
export function highestOfSource(
  facts: CircuitFacts,
  at: 'supply' | 'clamps',
): { pa: number | null; isBoundOnly: boolean } {
  const stall = highestStall(facts);
  const reaching = reliefsOf(facts).filter(
    (one) =>
      holdsSource(facts, one) ||
      (at === 'clamps' && one.lineFunctions.some((line) => ['supply', 'clamp'].includes(line))),
  );
  const fullFlow = lowestFullFlow(reaching);
  // A relief of which that is not known may or may not be in time.
  if (reaching.length > 0 && fullFlow === null) return { pa: stall, isBoundOnly: true };
  if (stall === null) return { pa: fullFlow, isBoundOnly: true };
  return { pa: fullFlow === null ? stall : Math.min(stall, fullFlow), isBoundOnly: false };
}

/** The colder and the warmer of the two that are told, whichever was called which. */
export function oilTemperatures({ powerUnit }: CircuitFacts): { cold: number | null; working: number | null } {
  const { coldOilTemperatureK: cold, workingOilTemperatureK: working } = powerUnit;
  if (cold === null || working === null) return { cold, working };
  return { cold: Math.min(cold, working), working: Math.max(cold, working) };
}

/** Kinematic viscosity by ASTM D341: log log (nu + 0.7) is straight over log T, through 40 and 100 C. */
export function viscosityAt(facts: CircuitFacts, temperatureK: number): number | null {
  const { oilViscosityAt40M2PerS: at40, oilViscosityAt100M2PerS: at100 } = facts.powerUnit;
  if (at40 === null || at100 === null) return null;
  const height = (m2PerS: number) => Math.log10(Math.log10(m2PerS / 1e-6 + 0.7));
  const share = Math.log10(temperatureK / 313.15) / Math.log10(373.15 / 313.15);
  return (10 ** (10 ** (height(at40) + share * (height(at100) - height(at40)))) - 0.7) * 1e-6;
}

/**
 * Fall of pressure in Pa/s, from what was measured with the supply shut off, the fixture and the hardware that are fitted, and by the error of the
 * gauge more. Through a laminar gap it grows with the pressure, below the setting of the reading it is taken as it was, and with thinner oil.
 */
export function decayRate(facts: CircuitFacts): number | null {
  const { readings, inUse } = facts.settings;
  const setting = inUse?.settingPa ?? null;
  if (readings === null || setting === null || !isOnItsFixture(facts)) return null;
  if (readings.decayPa === null || readings.decayDurationS === null || readings.settingPa === null) return null;
  if (!isUnchanged(facts) || readings.gaugeSpanPa === null || readings.gaugeClass === null) return null;
  const error = (readings.gaugeSpanPa * (readings.gaugeClass + 0.04 * known(facts.powerUnit.gaugeOffReferenceK))) / 100;
  // p = p0 e^(-k t): it fell fastest when the test began. What was gone by then may have been so, to a hundredth, after a second.
  const left = (readings.settingPa - readings.decayPa - error) / readings.settingPa;
  const seconds = left > 0.01 ? readings.decayDurationS : Math.min(1, readings.decayDurationS);
  const read = (Math.log(1 / Math.max(0.01, left)) / seconds) * Math.max(readings.settingPa, setting);
  const { cold, working } = oilTemperatures(facts);
  const readAt = readings.oilTemperatureK ?? cold;
  if (readAt === null || working === null) return null;
  if (readAt >= working) return read;
  const [thick, thin] = [viscosityAt(facts, readAt), viscosityAt(facts, working)];
  if (thick === null || thin === null) return null;
  return thick >= thin ? (read * thick) / thin : null;
}

/** The hose may burst with the clamps' oil behind it; `maybe`: it and a check valve of the supply may stand either way. */
function isEmptying(hose: Component, facts: CircuitFacts): 'yes' | 'no' | 'maybe' {
  if (isIn(hose, 'clamp')) return 'yes';
  if (!hose.lineFunctions.includes('supply')) return 'no';
  const valves = facts.components.filter(({ kind, place }) => kind === 'check-valve' && place === 'circuit');
  const isBehind = valves.some(({ lineFunctions: lines }) => lines.includes('clamp') && !lines.includes('supply'));
  if (isBehind) return 'no';
  if (!valves.some(({ lineFunctions }) => lineFunctions.includes('supply')) && facts.circuit.isCheckHeld !== true)
    return 'yes';
  if (hose.place === 'power-unit' || hose.isBeyondShutOff === false) return 'no';
  return hose.isBeyondShutOff === true ? 'yes' : 'maybe';
}

/** Fall of pressure in Pa/s once a hose bursts whose flow was typed: q / (V / K + swelling of hoses), V line and strokes on the side that clamps. */
export function burstRate(
  facts: CircuitFacts,
  which: readonly string[] = ['yes', 'maybe'],
): number | null | 'not typed' {
  const hoses = facts.components.filter(({ kind }) => kind === 'hose');
  const exposed = hoses.filter((hose) => which.includes(isEmptying(hose, facts)));
  const flows = exposed.map((hose) => figure(hose, 'burstFlow')).filter((flow) => flow !== null);
  if (flows.length === 0) return 'not typed';
  const modulus = facts.powerUnit.oilBulkModulusPa;
  if (modulus === null) return null;
  let [volume, swelling] = [0, 0];
  const pieces = facts.components.filter(
    ({ kind, lineFunctions }) => (kind === 'hose' || kind === 'tube') && lineFunctions.includes('clamp'),
  );
  for (const piece of pieces) {
    const inner =
      piece.kind === 'hose'
        ? known(figure(piece, 'innerDiameter'))
        : known(figure(piece, 'outerDiameter')) - 2 * known(figure(piece, 'wall'));
    const boreVolume = (Math.PI / 4) * inner ** 2 * known(figure(piece, 'length'));
    const expansion = figure(piece, 'expansionModulus');
    volume += boreVolume;
    if (piece.kind === 'hose' && expansion !== null) swelling += boreVolume / expansion;
  }
  for (const element of facts.fixture?.elements ?? []) {
    if (element.kind === 'locator') continue;
    const { boreM, rodM, strokeM, quantity } = element;
    const mayPull = element.kind === 'clamp' && pullsAsSaid(element) !== false;
    const rod = mayPull ? (rodM ?? boreM) : 0;
    volume += quantity * (Math.PI / 4) * (known(boreM) ** 2 - known(rod) ** 2) * known(strokeM);
  }
  return Math.max(...flows) / (volume / modulus + swelling);
}
