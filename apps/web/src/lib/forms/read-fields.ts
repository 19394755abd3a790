import type { Translate } from '@/lib/i18n/i18n';
import type { DraftsOf, FieldDefs, ValuesOf } from './field-def';
import type { FormError } from './use-form-errors';

export function toDrafts<F extends FieldDefs>(fields: F, values: ValuesOf<F>): DraftsOf<F> {
  return Object.fromEntries(
    Object.entries(fields).map(([name, def]) => [name, def.toDraft(values[name])]),
  ) as DraftsOf<F>;
}

/** A draft that was begun under another unit goes over to that of the page. */
export const allInUnitOfPage = <F extends FieldDefs>(fields: F, drafts: DraftsOf<F>): DraftsOf<F> =>
  Object.fromEntries(
    Object.entries(drafts).map(([name, draft]) => [name, fields[name]?.inUnitOfPage?.(draft) ?? draft]),
  ) as DraftsOf<F>;

export const toLabels = (fields: FieldDefs, t: Translate): Readonly<Record<string, string>> =>
  Object.fromEntries(Object.entries(fields).map(([name, def]) => [name, t(def.label)]));

/** The values of what is typed, and what is wrong with it: field by field first, then by the rules that span fields. */
export function readFields<F extends FieldDefs>(
  fields: F,
  drafts: DraftsOf<F>,
  t: Translate,
  check?: (values: ValuesOf<F>) => readonly FormError[],
): { values: ValuesOf<F>; problems: FormError[] } {
  const problems: FormError[] = [];
  const values: Record<string, unknown> = {};
  for (const [name, def] of Object.entries(fields)) {
    const reading = def.read(drafts[name]);
    if (reading.ok) {
      values[name] = reading.value;
      continue;
    }
    for (const { part, code, label, labelKey, item } of reading.problems) {
      const itsName = label ?? t(labelKey ?? def.label);
      const whole =
        item === undefined
          ? itsName
          : t('form.partOfItem', { part: itsName, item: t(item.labelKey, { number: item.number }) });
      problems.push({
        field: part === '' ? name : `${name}.${part}`,
        text: t.find(`fieldProblem.${code}`, { label: whole }) ?? t('problem.unknown'),
        isOurs: true,
      });
    }
  }
  const whole = values as ValuesOf<F>;
  if (check !== undefined) problems.push(...checkWhatIsRead(whole, fields, check));
  return { values: whole, problems };
}

class NotRead extends Error {}

/** Rules that span fields, so that all that is wrong is told at once; a rule that asks for a field that could not be read says nothing. */
function checkWhatIsRead<F extends FieldDefs>(
  values: ValuesOf<F>,
  fields: F,
  check: (values: ValuesOf<F>) => readonly FormError[],
): FormError[] {
  const asked = new Proxy(values, {
    get(read, name: string) {
      if (name in fields && !(name in read)) throw new NotRead(name);
      return read[name];
    },
  });
  try {
    return check(asked).map((error) => ({ ...error, isOurs: true }));
  } catch (error) {
    if (error instanceof NotRead) return [];
    throw error;
  }
}
