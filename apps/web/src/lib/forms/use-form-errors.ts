'use client';

import { useCallback, useMemo, useState } from 'react';
import { isApiError } from '@/lib/api/problem';
import { toFieldProblemText } from '@/lib/field-problem';
import { useTranslate } from '@/lib/i18n/i18n';
import { useProblemText } from '@/lib/states';

export interface FormError {
  /** name of the field in the body; null: about the whole */
  field: string | null;
  text: string;
  /** found here, so that it can be looked at again while somebody types */
  isOurs?: boolean;
}

const NONE = { errors: [], round: 0 };

/**
 * What is wrong with a form, from here or from the server, for its summary and for each field.
 * @param formId begins the ids of the form's fields: `${formId}-${field}`
 * @param labels name of each field as the reader sees it
 */
export function useFormErrors(formId: string, labels: Readonly<Record<string, string>>) {
  const t = useTranslate();
  const toText = useProblemText();
  const [{ errors, round }, setState] = useState<{ errors: readonly FormError[]; round: number }>(NONE);
  /** A new round is a new refusal: only then does the summary take the focus. */
  const setErrors = useCallback(
    (refused: readonly FormError[]) => setState((before) => ({ errors: refused, round: before.round + 1 })),
    [],
  );

  const refuse = useCallback(
    (refused: readonly FormError[]): boolean => {
      setErrors(refused);
      return refused.length > 0;
    },
    [setErrors],
  );

  /**
   * Somebody types in a field: what was wrong with it and is right by now goes, and so does what a rule that spans fields said of
   * another one. What the service said of other fields stays until it is asked again.
   * @param stillFound what is wrong with the whole form now
   */
  const settle = useCallback((field: string, stillFound: readonly FormError[]) => {
    const isWrong = (name: string): boolean => stillFound.some((error) => error.field === name);
    setState((before) => {
      const left = before.errors.filter((error) => {
        if (error.field === null) return error.isOurs !== true;
        const isTouched = error.field === field || error.field.startsWith(`${field}.`);
        return isTouched || error.isOurs === true ? isWrong(error.field) : true;
      });
      return left.length === before.errors.length ? before : { ...before, errors: left };
    });
  }, []);

  const summary = useMemo(
    () => ({
      round,
      errors: errors.map((error) => ({
        fieldId: error.field === null ? null : `${formId}-${error.field}`,
        text: error.text,
      })),
    }),
    [errors, round, formId],
  );

  const takeFailure = (error: unknown): void => {
    if (!isApiError(error) || error.fields.length === 0) {
      setErrors([{ field: null, text: toText(error) }]);
      return;
    }
    setErrors(
      error.fields.map((problem) => {
        const parts = problem.pointer.split('/').filter((part) => part !== '');
        // A field may stand deeper in what is sent than in the form: the outermost part that the form knows is it.
        const field = parts.find((part) => part in labels) ?? parts[0] ?? problem.field;
        const label = labels[field] ?? problem.field;
        return {
          field: labels[field] === undefined ? null : field,
          text: toFieldProblemText(t, problem, label),
        };
      }),
    );
  };

  return {
    refuse,
    takeFailure,
    settle,
    clear: () => setErrors([]),
    errorOf: (field: string): string | null => errors.find((error) => error.field === field)?.text ?? null,
    idOf: (field: string): string => `${formId}-${field}`,
    summary,
  };
}

export type FormErrors = ReturnType<typeof useFormErrors>;
