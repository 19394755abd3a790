import { toFieldProblemText } from '@/lib/field-problem';
import type { Translate } from '@/lib/i18n/i18n';
import { DEFAULT_LOCALE } from '@/messages';
import { sayFields, upperFirst } from './field-titles';
import type { FieldProblem } from './work/protocol';

/**
 * Why an input is refused. The documentation of the calculations, which knows the limit and what an input contradicts, is written in one
 * language: its readers get its words, with the page's own for the fields that it names; all others a sentence by the code.
 * @param label what the field is called
 * @param names all fields of the calculation, at any depth
 */
export function toRefusalText(t: Translate, problem: FieldProblem, label: string, names: readonly string[]): string {
  if (t.locale !== DEFAULT_LOCALE) return toFieldProblemText(t, problem, upperFirst(label));
  const needs = sayFields(t, problem.needs, names);
  return problem.code === 'alternatives'
    ? t('calculations.alternatives', { needs })
    : t('calculations.needs', { label: upperFirst(label), needs });
}
