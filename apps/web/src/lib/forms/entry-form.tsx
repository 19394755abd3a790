'use client';

import { useEffect, useState, type ComponentProps, type ReactNode } from 'react';
import { useTranslate } from '@/lib/i18n/i18n';
import { Button } from '@/ui/button';
import { ErrorSummary, Form, FormActions } from '@/ui/field';
import { useIsReady } from '@/ui/use-is-ready';
import type { FieldDefs, ValuesOf } from './field-def';
import { FormFields } from './form-fields';
import type { EntryFormState } from './use-entry-form';

/** Draws a form whose words are not kept: what is wrong first, then its fields, then what can be done. */
export function EntryForm<F extends FieldDefs>({
  form,
  label,
  submitText,
  busyText = submitText,
  look,
  done,
  children,
  onSubmit,
}: {
  form: EntryFormState<F>;
  label: string;
  submitText: string;
  busyText?: string;
  look?: ComponentProps<typeof Button>['look'];
  /** what came of it, beside the button */
  done?: string;
  /** stands before the fields */
  children?: ReactNode;
  /** a refusal that it throws is shown by the form */
  onSubmit: (values: ValuesOf<F>) => Promise<unknown>;
}) {
  const t = useTranslate();
  const isReady = useIsReady();
  const [wasDrawnBefore] = useState(!isReady);
  const { takeTyped } = form;
  useEffect(() => {
    if (wasDrawnBefore) takeTyped();
    // Once: from then on each key is heard.
  }, []);
  const [isBusy, setBusy] = useState(false);
  // What came of it is told until somebody types on.
  const [isTypedSince, setTypedSince] = useState(false);
  const submit = async (): Promise<void> => {
    const values = form.read();
    if (values === null) return;
    setBusy(true);
    setTypedSince(false);
    try {
      await onSubmit(values);
    } catch (error) {
      form.takeFailure(error);
    } finally {
      setBusy(false);
    }
  };
  return (
    <Form onSubmit={() => void submit()} onInput={() => setTypedSince(true)} label={label}>
      <ErrorSummary
        title={t('form.problem', { count: form.errors.summary.errors.length })}
        summary={form.errors.summary}
      />
      {children}
      <FormFields form={form} groups={[{ fields: Object.keys(form.fields) }]} />
      <FormActions>
        <Button {...(look === undefined ? {} : { look })} type="submit" disabled={isBusy || !isReady}>
          {isBusy ? busyText : submitText}
        </Button>
        {done === undefined ? null : <span role="status">{isTypedSince ? '' : done}</span>}
      </FormActions>
    </Form>
  );
}
