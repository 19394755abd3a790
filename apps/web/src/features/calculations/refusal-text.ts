import { toFieldProblemText } from '@/lib/field-problem';
import type { Translate } from '@/lib/i18n/i18n';
import { DEFAULT_LOCALE } from '@/messages';
import type { FieldProblem } from './work/protocol';

/**
 * Why an input is refused. The documentation of the calculations, which knows the limit and what an input contradicts, is written in one
 * language: its readers get its words, all others a sentence by the code.
 */
export const toRefusalText = (t: Translate, problem: FieldProblem, label: string): string =>
  t.locale === DEFAULT_LOCALE
    ? t('calculations.needs', { label, needs: problem.needs })
    : toFieldProblemText(t, problem, label);
