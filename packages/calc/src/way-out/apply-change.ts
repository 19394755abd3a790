import { asItStands, isSameFixture } from '../circuit-facts/reading-conditions.js';
import type { CircuitFacts, ComponentFacts, SettingsFacts } from '../circuit-facts/circuit-facts.types.js';
import { toLiftPerAir } from './setting-levers.js';
import type { WayOutChange } from './way-out.types.js';

/** What is changed. */
export type Target = Pick<WayOutChange, 'code' | 'holder' | 'id' | 'field' | 'apart'>;
export type Value = number | string | boolean;

const withField = <T extends object>(record: T, field: string, value: Value): T => ({ ...record, [field]: value });
const withOne = <T extends { id: string }>(list: readonly T[], id: string, change: (one: T) => T): T[] =>
  list.map((one) => (one.id === id ? change(one) : one));

/** Settings that are still to be made are judged as a target is: not as they were left, on hardware that may be gone. */
function withSettings(recorded: CircuitFacts, change: (inUse: SettingsFacts) => SettingsFacts): CircuitFacts {
  const { settings, ...facts } = asItStands(recorded);
  if (settings.inUse === null) return recorded;
  return { ...facts, settings: { ...settings, inUse: change(settings.inUse), isAsLeft: false } };
}

const withComponent = (
  facts: CircuitFacts,
  id: string,
  change: (component: ComponentFacts) => ComponentFacts,
): CircuitFacts => ({ ...facts, components: withOne(facts.components, id, change) });

const withFigures = (facts: CircuitFacts, id: string, figures: Readonly<Record<string, number>>): CircuitFacts =>
  withComponent(facts, id, (component) => ({ ...component, figures: { ...component.figures, ...figures } }));

/** Its full flow, and where it shuts again, stay as far from where it opens as they were. */
function moveRelief(relief: ComponentFacts, openingPressure: number, apart: number): ComponentFacts {
  const { openingPressure: before, reseatPressure } = relief.figures;
  const figures = { ...relief.figures, openingPressure, fullFlowPressure: openingPressure + apart };
  if (before === undefined || reseatPressure === undefined) return { ...relief, figures };
  return { ...relief, figures: { ...figures, reseatPressure: openingPressure - Math.max(0, before - reseatPressure) } };
}

/** A relief before the valve, and one between what shuts the clamps off and the clamps: oil that is shut in reaches no other. */
const RELIEFS: Partial<ComponentFacts> = { lineFunctions: ['supply', 'clamp'], isBeyondShutOff: true };
/** What is fitted bears whatever the circuit can reach: its own rating is asked for with it. */
const FITTED_RATING_PA = 700e5;
const fit = (facts: CircuitFacts, kind: ComponentFacts['kind'], figures: Record<string, number>): CircuitFacts => ({
  ...facts,
  components: [
    // Fitted once: further on it is only set otherwise.
    ...facts.components.filter(({ id }) => id !== `fitted ${kind}`),
    {
      ...{ id: `fitted ${kind}`, place: 'circuit', kind, name: '', lineFunctions: ['clamp'], sensing: null },
      ...(kind === 'relief-valve' ? RELIEFS : {}),
      figures: { ratedPressure: FITTED_RATING_PA, ...figures },
    },
  ],
});

/**
 * Read again with what is set now: what was read before at another setting counts no more, and the leak is what it was found to be, carried to
 * the setting as it is reckoned for the checks.
 */
function readAgain(facts: CircuitFacts, lowestPa: number): CircuitFacts {
  const { inUse, readings } = facts.settings;
  if (inUse === null || readings === null) return facts;
  const { settingPa, airPressurePa } = inUse;
  const fixtureId = facts.fixture?.id ?? null;
  const isOnSameFixture = isSameFixture(readings, facts);
  const isSame = settingPa === readings.settingPa && airPressurePa === readings.airPressurePa && isOnSameFixture;
  const leak = Math.max(1, (settingPa ?? 0) / (readings.settingPa ?? Infinity));
  const times = { clampTimeS: null, contactTimeS: null, unclampTimeS: null, timeToleranceS: null };
  const carried = isSame
    ? {}
    : {
        ...{ ...times, settingPa, airPressurePa, fixtureId, fixtureElements: facts.fixture?.elements ?? null },
        decayPa: readings.decayPa === null || !isOnSameFixture ? null : readings.decayPa * leak,
      };
  return {
    ...facts,
    settings: { ...facts.settings, readings: { ...readings, ...carried, lowestWhileSharedPa: lowestPa } },
  };
}

function setField(facts: CircuitFacts, { holder, id, field }: Target, value: Value): CircuitFacts {
  const { settings, control, fixture } = facts;
  switch (holder) {
    case 'settings':
      return withSettings(facts, (inUse) => withField(inUse, field, value));
    case 'readings':
      return settings.readings === null
        ? facts
        : { ...facts, settings: { ...settings, readings: withField(settings.readings, field, value) } };
    case 'circuit':
      return { ...facts, circuit: withField(facts.circuit, field, value) };
    case 'power-unit':
      return { ...facts, powerUnit: withField(facts.powerUnit, field, value) };
    case 'component':
      return withFigures(facts, id, { [field]: Number(value) });
    case 'fixture':
      return { ...facts, fixture: fixture && withField(fixture, field, value) };
    case 'element':
      return {
        ...facts,
        fixture: fixture && {
          ...fixture,
          elements: withOne(fixture.elements, id, (one) => withField(one, field, value)),
        },
      };
    case 'machine':
      return { ...facts, control: { ...control, machine: withField(control.machine, field, value) } };
    case 'behaviour': {
      const behaviour = withField(control.machine.behaviour, field, value);
      return { ...facts, control: { ...control, machine: { ...control.machine, behaviour } } };
    }
    case 'signal':
      return {
        ...facts,
        control: { ...control, signals: withOne(control.signals, id, (one) => withField(one, field, value)) },
      };
    case 'wire':
      return {
        ...facts,
        control: { ...control, wires: withOne(control.wires, id, (one) => withField(one, field, value)) },
      };
    case 'm-code':
      return {
        ...facts,
        control: { ...control, mCodes: withOne(control.mCodes, id, (one) => withField(one, field, value)) },
      };
  }
}

/** With its setting an air-driven pump's air is lowered to where it stalls there; behind a reducing valve, and for a higher one, it stays as it is. */
export function toAirOf(facts: CircuitFacts, { airPressurePa }: SettingsFacts, settingPa: number): number | null {
  const perAir = toLiftPerAir(facts);
  return perAir === null || airPressurePa === null ? airPressurePa : Math.min(airPressurePa, settingPa / perAir);
}

/** The facts with a target at a value: what `applyChange` does, for those that still look for the value. */
export function applyValue(facts: CircuitFacts, target: Target, value: Value): CircuitFacts {
  const { code, id } = target;
  const apart = target.apart ?? 0;
  switch (code) {
    case 'switch':
      return withSettings(facts, (inUse) => ({
        ...inUse,
        resetPointPa: Number(value),
        setPointPa: Number(value) + apart,
      }));
    case 'setting':
      return withSettings(facts, (inUse) => ({
        ...inUse,
        settingPa: Number(value),
        airPressurePa: toAirOf(facts, inUse, Number(value)),
      }));
    case 'set-point':
      // It stays as far above the reset point as it was, at the least.
      return withSettings(facts, (inUse) => ({
        ...inUse,
        setPointPa: Math.max(Number(value), (inUse.resetPointPa ?? -Infinity) + apart),
      }));
    case 'relief':
      return withComponent(facts, id, (relief) => moveRelief(relief, Number(value), apart));
    case 'fit-relief':
      return fit(facts, 'relief-valve', {
        openingPressure: Number(value),
        fullFlowPressure: Number(value) + apart,
        reseatPressure: Number(value) - apart,
      });
    case 'fit-sequence-valve':
      return fit(facts, 'sequence-valve', { openingPressure: Number(value), leastWorkingPressure: Number(value) });
    case 'sequence-valve':
      return withFigures(facts, id, { openingPressure: Number(value), leastWorkingPressure: Number(value) });
    case 'move-switch':
      return withComponent(facts, id, (component) => ({ ...component, sensing: 'clamp-line', isBeyondShutOff: true }));
    case 'fit-suppression':
      return setField(
        setField(facts, { ...target, field: 'suppression' }, 'transient-suppressor'),
        { ...target, field: 'suppressionVoltageV' },
        value,
      );
    case 'shared-lowest':
      return readAgain(facts, Number(value));
    default:
      return setField(facts, target, value);
  }
}

/** A figure of a change: its middle, or the one end that it has. */
const middleOf = ({ lowest, highest }: WayOutChange): number =>
  lowest !== null && highest !== null ? (lowest + highest) / 2 : Number(lowest ?? highest);

/** What is no figure: a yes where nothing else is said, a yes or no, or one of several. */
export function toAnswer(choice: string | null): string | boolean {
  if (choice === null || choice === 'true') return true;
  return choice === 'false' ? false : choice;
}

/** What a change sets: a figure of its range, else the middle of that; or what is no figure. */
export function valueOf(change: WayOutChange, figure?: number): Value {
  const isFigure = change.lowest !== null || change.highest !== null;
  return isFigure ? (figure ?? middleOf(change)) : toAnswer(change.choice);
}

/** The facts of a circuit with one change made: at a figure of its range, else at the middle of that. Never throws. */
export const applyChange = (facts: CircuitFacts, change: WayOutChange, figure?: number): CircuitFacts =>
  applyValue(facts, change, valueOf(change, figure));
