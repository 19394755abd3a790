'use client';

import { findBrowserLocale } from '@/lib/i18n/browser-locale';
import { toLanguageTag, toMessage } from '@/messages';

/** When even the layout failed: nothing of ours can be relied on, so words alone. */
export default function GlobalError({ reset }: { error: Error & { digest?: string }; reset: () => void }) {
  const locale = findBrowserLocale();
  return (
    <html lang={toLanguageTag(locale)}>
      <body>
        <main>
          <h1>{toMessage(locale, 'state.failed.title')}</h1>
          <p>{toMessage(locale, 'problem.unknown')}</p>
          <button type="button" onClick={reset}>
            {toMessage(locale, 'state.retry')}
          </button>
        </main>
      </body>
    </html>
  );
}
