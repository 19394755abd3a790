'use client';

import { useCallback, useState } from 'react';
import { isApiError } from '@/lib/api/problem';
import { useTranslate } from '@/lib/i18n/i18n';
import { useProblemText } from '@/lib/states';

export interface FormError {
  /** name of the field in the body; null: about the whole */
  field: string | null;
  text: string;
}

/**
 * What is wrong with a form, from here or from the server, for its summary and for each field.
 * @param formId begins the ids of the form's fields: `${formId}-${field}`
 * @param labels name of each field as the reader sees it
 */
export function useFormErrors(formId: string, labels: Readonly<Record<string, string>>) {
  const t = useTranslate();
  const toText = useProblemText();
  const [errors, setErrors] = useState<readonly FormError[]>([]);

  const refuse = useCallback((found: readonly FormError[]): boolean => {
    setErrors(found);
    return found.length > 0;
  }, []);

  const takeFailure = (error: unknown): void => {
    if (!isApiError(error) || error.fields.length === 0) {
      setErrors([{ field: null, text: toText(error) }]);
      return;
    }
    setErrors(
      error.fields.map((problem) => {
        const field = problem.pointer.split('/').find((part) => part !== '') ?? problem.field;
        const label = labels[field] ?? problem.field;
        const known = t.find(`fieldProblem.${problem.code}`, { label });
        return {
          field: labels[field] === undefined ? null : field,
          text: known ?? t('problem.needs', { label, needs: problem.needs }),
        };
      }),
    );
  };

  return {
    refuse,
    takeFailure,
    clear: () => setErrors([]),
    errorOf: (field: string): string | null => errors.find((error) => error.field === field)?.text ?? null,
    idOf: (field: string): string => `${formId}-${field}`,
    summary: errors.map((error) => ({
      fieldId: error.field === null ? null : `${formId}-${error.field}`,
      text: error.text,
    })),
  };
}
