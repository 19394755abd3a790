import { mapFigures, type FactValue, type Figure, type Figures } from '@repo/calc/figures';
import type { Translate } from '@/lib/i18n/i18n';
import type { EnteredQuantity } from '@/lib/quantity/format';
import type { QuantityDraft } from '@/lib/quantity/quantity-draft';
import { isMessageKey, type MessageKey } from '@/messages';
import type { FieldDef } from './field-def';
import { check, choiceOrNone, quantity, tristate } from './fields';
import { number, unitOfNumber } from './number';

type FieldOf<F> = F extends { type: 'quantity' }
  ? FieldDef<QuantityDraft, EnteredQuantity | null>
  : F extends { type: 'answer'; isAlwaysSaid: true }
    ? FieldDef<boolean, boolean>
    : FieldDef<string, FactValue<F>>;
type FieldsOf<T> = { [N in keyof T]: FieldOf<T[N]> };

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

function toField(name: string, figure: Figure, label: MessageKey, { t, pressureUnit, unsaid }: Words): unknown {
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
      return number({
        ...about,
        isInteger: figure.isWhole === true,
        least: figure.least,
        most: figure.most,
        typedIn: unitOfNumber(name),
      });
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
    return toField(name, figure, label, words);
  });
}
