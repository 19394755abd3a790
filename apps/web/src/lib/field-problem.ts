import type { Translate } from '@/lib/i18n/i18n';

/**
 * What is wrong with a field, made from the code of the rule that it breaks; the service's own words are English whoever reads. A rule
 * that belongs to one field alone has words of its own.
 */
export function toFieldProblemText(
  t: Translate,
  { field, code }: { field: string; code: string },
  label: string,
): string {
  const ruleText = code === 'rule' ? t.find(`fieldRule.${field.split('.').at(-1) ?? ''}`) : null;
  return ruleText ?? t.find(`fieldProblem.${code}`, { label }) ?? t('fieldProblem.wrong', { label });
}
