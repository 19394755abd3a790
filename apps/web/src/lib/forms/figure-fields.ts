import { mapFigures, unsaidOf, type FactValue, type Figure, type Figures } from '@repo/calc/figures';
import type { Translate } from '@/lib/i18n/i18n';
import type { EnteredQuantity } from '@/lib/quantity/format';
import type { QuantityDraft } from '@/lib/quantity/quantity-field';
import { isMessageKey, type MessageKey } from '@/messages';
import type { FieldDef } from './field-def';
import { check, choiceOrNone, number, quantity, tristate } from './fields';
import type { FieldGroup } from './form-fields';

type FieldOf<F> = F extends { type: 'quantity' }
  ? FieldDef<QuantityDraft, EnteredQuantity | null>
  : F extends { type: 'answer'; isAlwaysSaid: true }
    ? FieldDef<boolean, boolean>
    : FieldDef<string, FactValue<F>>;
type FieldsOf<T> = { [N in keyof T]: FieldOf<T[N]> };
type BlankOf<T> = { [N in keyof T]: T[N] extends { isAlwaysSaid: true } ? false : null };

/** Each figure whose words are there: `prefix.name`, and of a choice `prefix.name.value`. The compiler refuses any other. */
type Worded<P extends string, T> = {
  [N in keyof T & string]: `${P}.${N}` extends MessageKey
    ? T[N] extends { choices: readonly (infer C extends string)[] }
      ? `${P}.${N}.${C}` extends MessageKey
        ? T[N]
        : never
      : T[N]
    : never;
};

interface Words {
  t: Translate;
  /** the unit in which the reader sees pressures */
  pressureUnit: string;
  /** what is told where nobody has said */
  unsaid: string;
}

function toField(figure: Figure, label: MessageKey, { t, pressureUnit, unsaid }: Words): unknown {
  const hintKey = `${label}Hint`;
  const about = isMessageKey(hintKey) ? { label, hint: hintKey } : { label };
  switch (figure.type) {
    case 'quantity': {
      const unit = figure.kind === 'pressure' ? pressureUnit : figure.field.unit;
      return quantity({ ...about, kind: figure.kind, unit });
    }
    case 'answer':
      return figure.isAlwaysSaid === true
        ? check(about)
        : tristate({ ...about, words: [t('value.yes'), t('value.no'), unsaid] });
    case 'number':
      return number({ ...about, isInteger: figure.isWhole === true, least: figure.least, most: figure.most });
    case 'choice': {
      const choices = figure.choices.map((value) => ({ value, label: t.find(`${label}.${value}`) ?? value }));
      return choiceOrNone({ ...about, noneText: unsaid, choices });
    }
  }
}

/** A field for each figure; its label is the message `prefix.name`, its hint `prefix.nameHint` where there is one. */
export function figureFields<const P extends string, T extends Figures>(
  prefix: P,
  figures: T & Worded<P, T>,
  words: Words,
): FieldsOf<T> {
  return mapFigures<FieldsOf<T>>(figures, (figure, name) => {
    const label = `${prefix}.${name}`;
    if (!isMessageKey(label)) throw new Error(`no word for ${label}`);
    return toField(figure, label, words);
  });
}

/** What a form begins with before anything is said. */
export const blankFigures = <T extends Figures>(figures: T): BlankOf<T> => mapFigures<BlankOf<T>>(figures, unsaidOf);

/** Of what stands in a form the figures of one table. */
export function pickFigures<T extends Figures, V extends { [N in keyof T]: unknown }>(
  figures: T,
  values: V,
): Pick<V, keyof T & keyof V> {
  const all = new Map<string, unknown>(Object.entries(values));
  return mapFigures<Pick<V, keyof T & keyof V>>(figures, (_figure, name) => all.get(name));
}

type GroupOf<T extends Figures> = T[keyof T]['field']['group'];
const PLACES = ['first', undefined, 'last'];

/** The figures of one group of a form, in the order in which it asks for them. */
export function listGroup<T extends Figures>(figures: T, group: GroupOf<T>): (keyof T & string)[] {
  const names = Object.keys(figures) as (keyof T & string)[];
  return PLACES.flatMap((place) =>
    names.filter((name) => {
      const { field } = figures[name] as Figure;
      return field.group === group && field.place === place;
    }),
  );
}

/** A group of figures with the other fields that stand in it before and after them. */
interface Around extends Omit<FieldGroup<string>, 'fields'> {
  before?: readonly string[];
  after?: readonly string[];
}
type Beside<A> =
  (A extends { before: readonly (infer B)[] } ? B : never) | (A extends { after: readonly (infer B)[] } ? B : never);

/** The groups of a form, in the order given; the compiler misses none that a figure is in. */
export function groupFigures<T extends Figures, const G extends Readonly<Record<GroupOf<T>, Around>>>(
  figures: T,
  groups: G,
): FieldGroup<(keyof T & string) | Beside<G[keyof G]>>[] {
  const all = Object.entries<Around>(groups).map(([group, { before = [], after = [], ...rest }]) => ({
    ...rest,
    fields: [...before, ...listGroup(figures, group), ...after],
  }));
  return all as FieldGroup<(keyof T & string) | Beside<G[keyof G]>>[];
}
