'use client';

import { useEffect, useRef, useState, type ReactNode } from 'react';
import { useDates, useTranslate } from '@/lib/i18n/i18n';
import { Button } from '@/ui/button';
import { ErrorSummary, Form, FormActions } from '@/ui/field';
import { Caution, Notice } from '@/ui/notice';
import type { FieldDefs, ValuesOf } from './field-def';
import { FormFields, type FieldGroup } from './form-fields';
import styles from './record-form.module.css';
import type { Clash, RecordFormState } from './use-record-form';

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

/** Figures that look wrong are asked about, never refused. Its own button says yes, so that a second click on the first one does not. */
function QuestionNote({
  lines,
  meant,
  onConfirm,
}: {
  lines: readonly string[];
  /** what the fields mean: as soon as it is something else, the question is gone */
  meant: string;
  onConfirm: () => void;
}) {
  const t = useTranslate();
  const [askedOf] = useState(meant);
  const box = useRef<HTMLDivElement>(null);
  useEffect(() => box.current?.focus(), [lines]);
  if (meant !== askedOf) return null;
  return (
    <div ref={box} tabIndex={-1} role="alert" className={styles['clash']}>
      <h3>{t('form.question')}</h3>
      <ul>
        {lines.map((line) => (
          <li key={line}>{line}</li>
        ))}
      </ul>
      <Button onClick={onConfirm}>{t('form.saveAllTheSame')}</Button>
    </div>
  );
}

/** What was typed before is here again: since when, and that it was not sent. */
function RestoredNote({ at }: { at: number }) {
  const t = useTranslate();
  const dates = useDates();
  return <Notice role="status">{t('form.restored', { date: dates.atTime(new Date(at).toISOString()) })}</Notice>;
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
  question,
  second,
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
  /** what looks wrong with values that can be read: asked before they are saved */
  question?: (values: ValuesOf<F>) => readonly string[];
  /** another way to send the same fields, said at its own button */
  second?: { text: string; onSubmit: (values: ValuesOf<F>) => void };
  onSubmit: (values: ValuesOf<F>, changed: Partial<ValuesOf<F>>) => void;
}) {
  const t = useTranslate();
  const { describe } = form;
  const [asked, setAsked] = useState<{ lines: readonly string[]; times: number }>({ lines: [], times: 0 });
  useEffect(() => describe(label), [describe, label]);
  const submit = (): void => {
    const reading = form.read();
    const doubts = reading === null ? [] : (question?.(reading.values) ?? []);
    setAsked(({ times }) => ({ lines: doubts, times: times + 1 }));
    if (reading !== null && doubts.length === 0) onSubmit(reading.values, reading.changed);
  };
  const confirm = (): void => {
    const reading = form.read();
    setAsked(({ times }) => ({ lines: [], times }));
    if (reading !== null) onSubmit(reading.values, reading.changed);
  };
  return (
    <Form onSubmit={submit} label={label}>
      <ErrorSummary
        title={t('form.problem', { count: form.errors.summary.errors.length })}
        summary={form.errors.summary}
      />
      {form.restoredAt === null ? null : <RestoredNote at={form.restoredAt} />}
      {form.isKept ? null : <Notice role="status">{t('form.notKept')}</Notice>}
      <ClashNote clashes={form.clashes} onTakeTheirs={form.takeTheirs} />
      {cautions.length === 0 ? null : <Caution title={t('caution.title')} lines={cautions} />}
      {children}
      <FormFields form={form} groups={groups} />
      {asked.lines.length === 0 ? null : (
        <QuestionNote key={asked.times} lines={asked.lines} meant={form.toMeaning()} onConfirm={confirm} />
      )}
      <FormActions>
        <Button look={isDanger ? 'quiet' : 'strong'} type="submit" disabled={isPending}>
          {isPending ? t('form.sending') : submitText}
        </Button>
        {second === undefined ? null : (
          <Button
            disabled={isPending}
            onClick={() => {
              const reading = form.read();
              if (reading !== null) second.onSubmit(reading.values);
            }}
          >
            {second.text}
          </Button>
        )}
        {form.isTyped ? (
          <Button look="plain" onClick={() => form.clear()}>
            {t('form.discard')}
          </Button>
        ) : null}
      </FormActions>
    </Form>
  );
}
