import { ELEMENT_FIGURES, factNameOf, fromFigures, mapFigures, unsaidOf, type Figure } from '@repo/calc/figures';
import { IMPORT_ENTITIES } from '@repo/contracts';
import { uuidv7 } from 'uuidv7';
import { fixtureElements, type StoredElement } from '../../documents/fixture-elements.js';
import { quantityFrom } from '../../platform/http/quantity-out.js';
import { groupBy } from '../../platform/group-by.js';
import { decimalsOf } from './decimals.js';
import { readPlaces, toText } from './places.js';
import type { Existing, Rec } from './plan-model.js';
import type { QuantityValue, Value } from './read-value.js';

const FIGURES = Object.entries<Figure>(ELEMENT_FIGURES);

function valuesOf(element: StoredElement): Record<string, Value | null> {
  const stored = new Map<string, unknown>(Object.entries(element));
  const inSi = new Map<string, unknown>(Object.entries(element.si));
  const { name, kind, quantity, places } = element;
  const figures = FIGURES.map(([figure, about]) => {
    const value = stored.get(figure) ?? null;
    if (about.type !== 'quantity') return [figure, value as Value | null] as const;
    const typed = quantityFrom(value);
    if (typed === null) return [figure, null] as const;
    const digits = typed.digits ?? decimalsOf(typed.value);
    return [
      figure,
      { value: typed.value, unit: typed.unit, digits, si: Number(inSi.get(factNameOf(figure, about))) },
    ] as const;
  });
  return { name, kind, quantity, places: places.length === 0 ? null : toText(places), ...Object.fromEntries(figures) };
}

/** The elements of a fixture, each as a record of its own. */
export function listElements(fixture: Existing): Existing[] {
  const elements = fixtureElements.read(fixture.derived.elements, String(fixture.values.name));
  return elements.map((element) => ({
    id: element.id,
    version: fixture.version,
    archived: false,
    links: { customer: fixture.links.customer ?? null, fixture: fixture.id },
    values: valuesOf(element),
    derived: {},
  }));
}

/** Of which nobody has said anything yet. */
const unsaid = (id: string, name: string): StoredElement =>
  ({
    id,
    name,
    kind: 'clamp',
    quantity: 1,
    ...mapFigures<object>(ELEMENT_FIGURES, unsaidOf),
    places: [],
    si: {
      ...fromFigures<object>(ELEMENT_FIGURES, (figure, about) =>
        about.type === 'quantity' ? [[factNameOf(figure, about), null]] : [],
      ),
      places: [],
    },
  }) as unknown as StoredElement;

/** An element with one field as a file says it. */
function withField(element: StoredElement, field: string, value: Value): StoredElement {
  if (field === 'places') {
    const read = readPlaces(String(value));
    return read === null ? element : { ...element, places: read.places, si: { ...element.si, places: read.inSi } };
  }
  const about = FIGURES.find(([name]) => name === field)?.[1];
  if (about?.type !== 'quantity') return { ...element, [field]: value };
  const { value: typed, unit, digits, si } = value as QuantityValue;
  const inSi = { ...element.si, [factNameOf(field, about)]: si };
  return { ...element, [field]: { value: typed, unit, digits }, si: inSi };
}

/** The elements of a fixture once a file has added to them and changed them; what it does not name stays as it is stored. */
export function mergeElements(fixture: Existing | null, recs: readonly Rec[]): StoredElement[] {
  const stored = fixture === null ? [] : fixtureElements.read(fixture.derived.elements, String(fixture.values.name));
  const changed = new Map(recs.map((rec) => [rec.existing?.id ?? rec.id ?? uuidv7(), rec]));
  const merge = (element: StoredElement, rec: Rec | undefined): StoredElement => {
    if (rec === undefined) return element;
    const fields =
      rec.existing === null
        ? [...rec.values].filter(([field]) => field !== 'name').map(([field, { value }]) => ({ field, value }))
        : rec.changes.map(({ field, to }) => ({ field: field.replace('fixture-element.', ''), value: to }));
    return fields.reduce((one, { field, value }) => (value === null ? one : withField(one, field, value)), element);
  };
  const kept = stored.map((element) => merge(element, changed.get(element.id)));
  const added = [...changed].filter(([, rec]) => rec.existing === null);
  return fixtureElements.write([...kept, ...added.map(([id, rec]) => merge(unsaid(id, rec.label), rec))]);
}

/**
 * Gives each fixture its elements as the file leaves them.
 * @returns the fixtures of which an element is new or changed
 */
export function gatherElements(recs: readonly Rec[]): ReadonlySet<Rec> {
  const elements = recs.filter(({ entity }) => entity === 'fixture-element');
  const fixtures = new Set<Rec>();
  for (const [fixture, group] of groupBy(elements, ({ parents }) => parents.fixture)) {
    if (fixture === undefined) throw new Error('an element has lost its fixture');
    fixture.further = { elements: mergeElements(fixture.existing, group) };
    fixtures.add(fixture);
  }
  return fixtures;
}

/** All that is to be written, parents first: a fixture of which only an element is otherwise as well. */
export function withFixtures(recs: readonly Rec[], fixtures: ReadonlySet<Rec>): Rec[] {
  const placeOf = ({ entity }: Rec): number => IMPORT_ENTITIES.indexOf(entity);
  return [...new Set([...recs, ...fixtures])].sort((one, other) => placeOf(one) - placeOf(other));
}
