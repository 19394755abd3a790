'use client';

import { I18nProvider } from 'react-aria-components/I18nProvider';
import { useTranslate } from '@/lib/i18n/i18n';
import { ComboField, type ComboFieldProps } from '@/ui/combo-field';

/** The field with its library, which speaks the reader's language too: a file of its own, since few pages need it and none at once. */
export default function ComboControl(props: ComboFieldProps) {
  return (
    <I18nProvider locale={useTranslate().languageTag}>
      <ComboField {...props} />
    </I18nProvider>
  );
}
