'use client';

import { useState } from 'react';
import { isApiError } from '@/lib/api/problem';
import { useTranslate } from '@/lib/i18n/i18n';
import { useProblemText } from '@/lib/states';
import type { DraftsOf, FieldDefs, ValuesOf } from './field-def';
import { readFields, toDrafts, toLabels } from './read-fields';
import { useFormErrors, type FormError } from './use-form-errors';

/**
 * A form whose words are kept nowhere but on the page: to sign in, to set a password, to add a passkey. What is typed for a record, and
 * must not be lost, has `useRecordForm`.
 */
export function useEntryForm<F extends FieldDefs>(options: {
  /** begins the ids of the fields */
  name: string;
  fields: F;
  initial: ValuesOf<F>;
  /** rules that span fields */
  check?: (values: ValuesOf<F>) => readonly FormError[];
  /** refusals by their code that are about one field */
  refusals?: Readonly<Record<string, keyof F & string>>;
}) {
  const t = useTranslate();
  const toText = useProblemText();
  const { fields, check } = options;
  const [typed, setTyped] = useState<Partial<DraftsOf<F>>>({});
  // A field may join while the form is filled in.
  const drafts = { ...toDrafts(fields, options.initial), ...typed };
  const labels = toLabels(fields, t);
  const errors = useFormErrors(options.name, labels);

  const setField = <K extends keyof F & string>(field: K, draft: DraftsOf<F>[K]): void => {
    setTyped((before) => ({ ...before, [field]: draft }));
    errors.settle(field, readFields(fields, { ...drafts, [field]: draft }, t, check).problems);
  };

  return {
    fields,
    labels,
    drafts,
    setField,
    /** What was typed into the page before its scripts had come stands in its fields alone. */
    takeTyped: (): void => {
      const found = Object.keys(fields).flatMap((field) => {
        const control = document.getElementById(errors.idOf(field));
        const isTyped = control instanceof HTMLInputElement && control.value !== control.defaultValue;
        return isTyped ? [[field, control.value] as const] : [];
      });
      if (found.length > 0) setTyped((before) => ({ ...Object.fromEntries(found), ...before }) as Partial<DraftsOf<F>>);
    },
    errors,
    /** the values, or null when something cannot be read; then the errors say what */
    read: (): ValuesOf<F> | null => {
      const { values, problems } = readFields(fields, drafts, t, check);
      return errors.refuse(problems) ? null : values;
    },
    takeFailure: (error: unknown): void => {
      const field = isApiError(error) ? options.refusals?.[error.code] : undefined;
      if (field === undefined) errors.takeFailure(error);
      else errors.refuse([{ field, text: toText(error) }]);
    },
    clear: (): void => {
      setTyped({});
      errors.clear();
    },
  };
}

export type EntryFormState<F extends FieldDefs> = ReturnType<typeof useEntryForm<F>>;
