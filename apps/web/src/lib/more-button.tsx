'use client';

import type { UseInfiniteQueryResult } from '@tanstack/react-query';
import { Button } from '@/ui/button';
import { useTranslate } from './i18n/i18n';

/** The next page of a list; absent when there is none. */
export function MoreButton({
  query,
}: {
  query: Pick<UseInfiniteQueryResult, 'hasNextPage' | 'fetchNextPage' | 'isFetchingNextPage'>;
}) {
  const t = useTranslate();
  if (!query.hasNextPage) return null;
  return (
    <Button onClick={() => void query.fetchNextPage()} disabled={query.isFetchingNextPage}>
      {t('action.more')}
    </Button>
  );
}
