'use client';

import type { ReactNode } from 'react';
import { useTranslate } from '@/lib/i18n/i18n';
import type { MessageKey } from '@/messages';
import { FieldRow } from '@/ui/field';
import type { DraftsOf, FieldDefs } from './field-def';
import styles from './record-form.module.css';
import type { FormErrors } from './use-form-errors';

export interface FieldGroup<K> {
  fields: readonly K[];
  title?: MessageKey;
  /** shut until somebody opens it, or something in it is wrong */
  isFolded?: boolean;
}

/** What the fields of a form need of it, whether its words are kept or not. */
interface FormOfFields<F extends FieldDefs> {
  fields: F;
  labels: Readonly<Record<string, string>>;
  drafts: DraftsOf<F>;
  errors: Pick<FormErrors, 'idOf' | 'errorOf'>;
  setField<K extends keyof F & string>(field: K, draft: DraftsOf<F>[K]): void;
}

/** Fields that take a row of their own stand alone; the others share rows. */
function toRows<K extends string>(fields: FieldDefs, names: readonly K[]): K[][] {
  const rows: K[][] = [];
  for (const name of names) {
    const last = rows.at(-1);
    const isAlone = fields[name]?.isWide === true;
    const isAfterAlone = last?.some((other) => fields[other]?.isWide === true) ?? true;
    if (isAlone || isAfterAlone || last === undefined) rows.push([name]);
    else last.push(name);
  }
  return rows;
}

const toHint = (...parts: readonly (string | undefined)[]): string | undefined =>
  parts.filter((part) => part !== undefined).join(' ') || undefined;

function Group<F extends FieldDefs>({ form, group }: { form: FormOfFields<F>; group: FieldGroup<keyof F & string> }) {
  const t = useTranslate();
  const { errors } = form;
  const control = (name: keyof F & string): ReactNode => {
    const def = form.fields[name];
    if (def === undefined) return null;
    return (
      <div key={name} className={styles['cell']}>
        {def.render({
          id: errors.idOf(name),
          label: form.labels[name] ?? name,
          hint: toHint(def.hint === undefined ? undefined : t(def.hint), def.note?.(form.drafts[name])),
          error: errors.errorOf(name),
          needed: def.isRequired === true ? t('form.needed') : undefined,
          errorOf: (part) => errors.errorOf(`${name}.${part}`),
          draft: form.drafts[name],
          onChange: (draft) => form.setField(name, draft as never),
        })}
      </div>
    );
  };
  const rows = toRows(form.fields, group.fields).map((row) =>
    row.length === 1 && form.fields[row[0] ?? '']?.isWide === true ? (
      row.map(control)
    ) : (
      // By its first field: whatever joins or leaves the row, what has the focus stays.
      <FieldRow key={row[0]}>{row.map(control)}</FieldRow>
    ),
  );
  if (group.title === undefined) return rows;
  if (group.isFolded !== true) {
    return (
      <fieldset className={styles['group']}>
        <legend>{t(group.title)}</legend>
        {rows}
      </fieldset>
    );
  }
  const hasError = group.fields.some((name) => errors.errorOf(name) !== null);
  return (
    <details className={styles['group']} {...(hasError ? { open: true } : {})}>
      <summary>{t(group.title)}</summary>
      {rows}
    </details>
  );
}

export function FormFields<F extends FieldDefs>({
  form,
  groups,
}: {
  form: FormOfFields<F>;
  groups: readonly FieldGroup<keyof F & string>[];
}) {
  return groups.map((group) => <Group key={group.fields[0]} form={form} group={group} />);
}
