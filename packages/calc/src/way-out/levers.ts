import type { CircuitFacts, ComponentFacts, FixtureElementFacts } from '../circuit-facts/circuit-facts.types.js';
import { findOfKind, refOf } from '../circuit-facts/component-figures.js';
import type { FigureRef } from '../pressure-ladder/pressure-ladder.types.js';
import { CHANGES, type ChangeCode } from './changes.js';
import type { Holder, WayOutChange } from './way-out.types.js';

/** A change of which it is not yet found out how far it has to go. */
export type Lever = Omit<WayOutChange, 'lowest' | 'highest'>;

export const idOf = ({ code, holder, id, field }: Lever): string => `${code} ${holder} ${id} ${field}`;

interface At {
  holder: Holder;
  id?: string;
  field: string;
  ref?: FigureRef | null;
  from?: number | null;
  apart?: number | null;
  choice?: string | null;
}

export const toLever = (code: ChangeCode, { holder, id = '', field, ref = null, from, apart, choice }: At): Lever => ({
  code,
  kind: CHANGES[code].kind,
  ...{ holder, id, field, ref },
  ...{ from: from ?? null, apart: apart ?? null, choice: choice ?? null, alsoReaches: [] },
});

/** Of a record of the facts that has such a figure; a figure that nobody knows is recorded, not changed. */
function ofRecord<T extends object>(
  record: T | null,
  holder: Holder,
): (code: ChangeCode, field: keyof T & string, ref?: FigureRef | null) => Lever[] {
  return (code, field, ref = null) => {
    const from = record?.[field];
    const id = record !== null && 'id' in record ? String(record.id) : '';
    return typeof from === 'number' ? [toLever(code, { holder, id, field, ref, from })] : [];
  };
}

/** A yes that is still to be said; nobody can make it true who does not know whether it is. */
const ofAnswer = (
  code: ChangeCode,
  holder: Holder,
  field: string,
  answer: boolean | null,
  ref: FigureRef | null = null,
): Lever[] => (answer === false ? [toLever(code, { holder, id: ref?.id ?? '', field, ref })] : []);

export const ofCircuit = (facts: CircuitFacts) => ofRecord(facts.circuit, 'circuit');
export const ofPowerUnit = (facts: CircuitFacts) => ofRecord(facts.powerUnit, 'power-unit');
export const ofMachine = (facts: CircuitFacts) => ofRecord(facts.control.machine, 'machine');
export const ofSettings = (facts: CircuitFacts) => ofRecord(facts.settings.inUse, 'settings');
export const ofReadings = (facts: CircuitFacts) => ofRecord(facts.settings.readings, 'readings');
export { ofAnswer };

/** Of the component itself. */
export function ofComponent(component: ComponentFacts | undefined, code: ChangeCode, field: string): Lever[] {
  const from = component?.figures[field];
  if (component === undefined || from === undefined) return [];
  return [toLever(code, { holder: 'component', id: component.id, field, ref: refOf(component), from })];
}

export const ofKind = (facts: CircuitFacts, kind: ComponentFacts['kind'], code: ChangeCode, field: string): Lever[] =>
  ofComponent(findOfKind(facts.components, kind), code, field);

const componentOf = ({ components }: CircuitFacts, ref: FigureRef | null): ComponentFacts | undefined =>
  components.find(({ id }) => id === ref?.id);
function elementOf({ fixture }: CircuitFacts, ref: FigureRef | null): FixtureElementFacts | undefined {
  if (fixture === null || ref?.id !== fixture.id) return undefined;
  return fixture.elements.find(({ name }) => ref.name === `${fixture.name}: ${name}`);
}

/** Of what a check is about, a component or an element of the fixture, by the names that the figure has in either. */
export function ofSubject(
  facts: CircuitFacts,
  ref: FigureRef | null,
  code: ChangeCode,
  names: { component: string; element: keyof FixtureElementFacts & string },
): Lever[] {
  const element = elementOf(facts, ref);
  if (element !== undefined) return ofRecord(element, 'element')(code, names.element, ref);
  return ofComponent(componentOf(facts, ref), code, names.component);
}

/** Its rating: of a component, an element of the fixture, or the fixture. */
export function ofRating(facts: CircuitFacts, ref: FigureRef | null): Lever[] {
  const { fixture } = facts;
  if (fixture !== null && ref?.id === fixture.id && ref.name === fixture.name) {
    return ofRecord(fixture, 'fixture')('rating', 'ratedPressurePa', ref);
  }
  return ofSubject(facts, ref, 'rating', { component: 'ratedPressure', element: 'ratedPressurePa' });
}

/** The wires of a signal, and the signal. */
export const ofWires = ({ control }: CircuitFacts, ref: FigureRef | null, code: ChangeCode): Lever[] =>
  control.wires
    .filter(({ signalId }) => signalId === ref?.id)
    .flatMap((wire) =>
      ofRecord(wire, 'wire')(code, 'crossSectionM2', { entity: 'wire', id: wire.id, name: wire.number }),
    );
export function ofWire(
  { control }: CircuitFacts,
  ref: FigureRef | null,
  code: ChangeCode,
  field: 'protectionA' | 'insulationVoltageV',
): Lever[] {
  return ofRecord(control.wires.find(({ id }) => id === ref?.id) ?? null, 'wire')(code, field, ref);
}
export const ofSignal = ({ control }: CircuitFacts, ref: FigureRef | null) =>
  control.signals.find(({ id }) => id === ref?.id);

/** Of what springs push back. */
export function ofSprings({ fixture }: CircuitFacts): Lever[] {
  if (fixture === null) return [];
  return fixture.elements
    .filter(({ acting }) => acting === 'single')
    .flatMap((element) => {
      const ref = { entity: 'fixture', id: fixture.id, name: `${fixture.name}: ${element.name}` };
      return ofRecord(element, 'element')('spring-force', 'springForceN', ref);
    });
}
