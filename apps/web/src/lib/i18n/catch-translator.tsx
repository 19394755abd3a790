import { SearchParamsContext } from 'next/dist/shared/lib/hooks-client-context.shared-runtime';
import { renderToStaticMarkup } from 'react-dom/server';
import { DEFAULT_LOCALE, speakWhole } from '@/messages';
import { en } from '@/messages/en';
import { LocaleProvider, useTranslate, type Translate } from './i18n';

/** For tests: the translator that pages get, with every message in English. */
export function catchTranslator(): Translate {
  speakWhole(en);
  const found: Translate[] = [];
  const Catch = () => {
    found.push(useTranslate());
    return null;
  };
  renderToStaticMarkup(
    <SearchParamsContext value={new URLSearchParams()}>
      <LocaleProvider initial={DEFAULT_LOCALE}>
        <Catch />
      </LocaleProvider>
    </SearchParamsContext>,
  );
  const [translate] = found;
  if (translate === undefined) throw new Error('no translator');
  return translate;
}
