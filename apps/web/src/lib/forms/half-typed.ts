import type { Translate } from '@/lib/i18n/i18n';
import type { FormError } from './use-form-errors';

/**
 * Days and times that are typed by half: the browser gives them as empty, and an empty one may mean "now". Only the field itself knows.
 * @param formId begins the ids of the form's fields
 */
export function listHalfTyped(formId: string, t: Translate): FormError[] {
  const begin = `${formId}-`;
  return [...document.querySelectorAll<HTMLInputElement>('input:is([type=date], [type=datetime-local], [type=time])')]
    .filter(({ id, validity }) => id.startsWith(begin) && validity.badInput)
    .map((input) => ({
      field: input.id.slice(begin.length),
      text: t('fieldProblem.half-typed', { label: input.labels?.[0]?.textContent ?? '' }),
      isOurs: true,
    }));
}
