'use client';

import { useEffect, useRef, type ReactNode } from 'react';
import { useTranslate } from '@/lib/i18n/i18n';
import type { MessageKey } from '@/messages';
import { Button } from '@/ui/button';
import { ErrorSummary, FieldRow, Form, FormActions } from '@/ui/field';
import { Caution, Notice } from '@/ui/notice';
import type { FieldDefs, ValuesOf } from './field-def';
import styles from './record-form.module.css';
import type { Clash, RecordFormState } from './use-record-form';

export interface FieldGroup<K> {
  fields: readonly K[];
  title?: MessageKey;
  /** shut until somebody opens it, or something in it is wrong */
  isFolded?: boolean;
}

function ClashNote({ clashes, onTakeTheirs }: { clashes: readonly Clash[]; onTakeTheirs: () => void }) {
  const t = useTranslate();
  const box = useRef<HTMLDivElement>(null);
  useEffect(() => {
    if (clashes.length > 0) box.current?.focus();
  }, [clashes]);
  if (clashes.length === 0) return null;
  return (
    <div ref={box} tabIndex={-1} role="alert" className={styles['clash']}>
      <h3>{t('form.clash.title')}</h3>
      <p>{t('form.clash.text')}</p>
      <ul>
        {clashes.map((clash) => (
          <li key={clash.field}>
            {clash.yours === null
              ? t('form.clash.taken', { label: clash.label, theirs: clash.theirs })
              : t('form.clash.both', { label: clash.label, theirs: clash.theirs, yours: clash.yours })}
          </li>
        ))}
      </ul>
      <Button onClick={onTakeTheirs}>{t('form.takeTheirs')}</Button>
    </div>
  );
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

function Group<F extends FieldDefs>({
  form,
  group,
}: {
  form: RecordFormState<F>;
  group: FieldGroup<keyof F & string>;
}) {
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
          hint: def.hint === undefined ? undefined : t(def.hint),
          error: errors.errorOf(name),
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
      <FieldRow key={row.join()}>{row.map(control)}</FieldRow>
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

/** Draws a record's form: what is wrong first, then cautions, fields, and what can be done. */
export function RecordForm<F extends FieldDefs>({
  form,
  groups,
  label,
  cautions = [],
  children,
  submitText,
  isPending,
  isDanger = false,
  onSubmit,
}: {
  form: RecordFormState<F>;
  groups: readonly FieldGroup<keyof F & string>[];
  label: string;
  cautions?: readonly string[];
  /** stands between the cautions and the fields */
  children?: ReactNode;
  submitText: string;
  isPending: boolean;
  isDanger?: boolean;
  onSubmit: (values: ValuesOf<F>, changed: Partial<ValuesOf<F>>) => void;
}) {
  const t = useTranslate();
  const submit = (): void => {
    const reading = form.read();
    if (reading !== null) onSubmit(reading.values, reading.changed);
  };
  return (
    <Form onSubmit={submit} label={label}>
      <ErrorSummary title={t('form.problem')} summary={form.errors.summary} />
      {form.isRestored ? <Notice role="status">{t('form.restored')}</Notice> : null}
      <ClashNote clashes={form.clashes} onTakeTheirs={form.takeTheirs} />
      {cautions.length === 0 ? null : <Caution title={t('caution.title')} lines={cautions} />}
      {children}
      {groups.map((group) => (
        <Group key={group.fields.join()} form={form} group={group} />
      ))}
      <FormActions>
        <Button look={isDanger ? 'quiet' : 'strong'} type="submit" disabled={isPending}>
          {isPending ? t('form.sending') : submitText}
        </Button>
        <Button look="plain" onClick={() => form.clear()}>
          {t('form.discard')}
        </Button>
      </FormActions>
    </Form>
  );
}
