'use client';

import { QueryClient, QueryClientProvider } from '@tanstack/react-query';
import { useState, type ReactNode } from 'react';
import type { Locale } from '@/messages';
import { isApiError } from './api/problem';
import { LocaleProvider } from './i18n/i18n';
import { ReaderZoneProvider } from './i18n/reader-zone';
import type { PressureUnit } from './quantity/format';
import { PressureUnitProvider } from './quantity/pressure-unit';

/** A refusal is final; only a server that was away is asked again. */
function canRetry(failures: number, error: Error): boolean {
  if (failures >= 2) return false;
  return isApiError(error) && (error.status === 0 || error.status >= 502);
}

export function Providers({
  locale,
  unit,
  zone,
  children,
}: {
  locale: Locale;
  unit: PressureUnit;
  zone: string;
  children: ReactNode;
}) {
  const [client] = useState(
    () =>
      new QueryClient({
        defaultOptions: {
          queries: { staleTime: 15_000, retry: canRetry, refetchOnWindowFocus: true, networkMode: 'always' },
          mutations: { retry: false, networkMode: 'always' },
        },
      }),
  );
  return (
    <LocaleProvider initial={locale}>
      <QueryClientProvider client={client}>
        <PressureUnitProvider initial={unit}>
          <ReaderZoneProvider initial={zone}>{children}</ReaderZoneProvider>
        </PressureUnitProvider>
      </QueryClientProvider>
    </LocaleProvider>
  );
}
