import '@fontsource/ibm-plex-sans/400.css';
import '@fontsource/ibm-plex-sans/500.css';
import '@fontsource/ibm-plex-sans/600.css';
import '@fontsource/ibm-plex-mono/400.css';
import '@fontsource/ibm-plex-mono/500.css';
import './tokens.css';
import './global.css';
import bold from '@fontsource/ibm-plex-sans/files/ibm-plex-sans-latin-600-normal.woff2';
import regular from '@fontsource/ibm-plex-sans/files/ibm-plex-sans-latin-400-normal.woff2';
import type { Metadata, Viewport } from 'next';
import { cookies, headers } from 'next/headers';
import type { ReactNode } from 'react';
import { preload } from 'react-dom';
import { findRequestLocale } from '@/lib/i18n/request-locale';
import { toZone, ZONE_COOKIE } from '@/lib/i18n/zone-cookie';
import { Providers } from '@/lib/providers';
import { isTheme, THEME_COOKIE } from '@/lib/preferences/theme';
import { isPressureUnit } from '@/lib/quantity/format';
import { toLanguageTag, toMessage } from '@/messages';

export async function generateMetadata(): Promise<Metadata> {
  const locale = await findRequestLocale();
  const name = toMessage(locale, 'app.name');
  return {
    title: { default: name, template: `%s · ${name}` },
    description: toMessage(locale, 'app.description'),
    robots: { index: false, follow: false },
  };
}

export const viewport: Viewport = { width: 'device-width', initialScale: 1, colorScheme: 'light dark' };

/** Reading the request makes every page rendered per request: only then can its scripts carry that request's nonce. */
export default async function RootLayout({ children }: { children: ReactNode }) {
  // Those of most words come with the page, so that its text hardly moves; more of them would keep a slow line from the page itself.
  for (const font of [regular, bold]) preload(font, { as: 'font', type: 'font/woff2', crossOrigin: 'anonymous' });
  const policy = (await headers()).get('content-security-policy') ?? '';
  const nonce = /'nonce-([^']+)'/.exec(policy)?.[1];
  const store = await cookies();
  const theme = store.get(THEME_COOKIE)?.value;
  const unit = decodeURIComponent(store.get('kedge-unit')?.value ?? '');
  const locale = await findRequestLocale();
  return (
    <html lang={toLanguageTag(locale)} data-theme={isTheme(theme) && theme !== 'system' ? theme : undefined}>
      <head>{nonce === undefined ? null : <meta property="csp-nonce" content={nonce} nonce={nonce} />}</head>
      <body>
        <a className="skip" href="#main">
          {toMessage(locale, 'app.skip')}
        </a>
        <Providers
          locale={locale}
          unit={isPressureUnit(unit) ? unit : 'bar'}
          zone={toZone(store.get(ZONE_COOKIE)?.value)}
        >
          {children}
        </Providers>
      </body>
    </html>
  );
}
