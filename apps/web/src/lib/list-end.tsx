'use client';

import type { InfiniteData, UseInfiniteQueryResult } from '@tanstack/react-query';
import { Button } from '@/ui/button';
import { Notice } from '@/ui/notice';
import { useTranslate } from './i18n/i18n';

type Pages = InfiniteData<{ unreadable?: number }>;

/** How a list ends: with its next page, where there is one, and with what of those that were read is left out. */
export function ListEnd({
  query,
}: {
  query: Pick<UseInfiniteQueryResult<Pages>, 'data' | 'hasNextPage' | 'fetchNextPage' | 'isFetchingNextPage'>;
}) {
  const t = useTranslate();
  const leftOut = query.data?.pages.reduce((sum, { unreadable = 0 }) => sum + unreadable, 0) ?? 0;
  return (
    <>
      {leftOut > 0 && <Notice role="status">{t('list.leftOut', { count: leftOut })}</Notice>}
      {query.hasNextPage && (
        <Button onClick={() => void query.fetchNextPage()} disabled={query.isFetchingNextPage}>
          {t('action.more')}
        </Button>
      )}
    </>
  );
}
