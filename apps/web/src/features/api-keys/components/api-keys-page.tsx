'use client';

import { routes, type ApiKey, type CreatedApiKey } from '@repo/contracts';
import { useState } from 'react';
import { useApiChange, useApiPages } from '@/lib/api/hooks';
import { FormDialog } from '@/lib/forms';
import { useDates, useTranslate } from '@/lib/i18n/i18n';
import { ListEnd } from '@/lib/list-end';
import { FailedNote, useProblemText } from '@/lib/states';
import { Button } from '@/ui/button';
import { Dialog } from '@/ui/dialog';
import { LoadingNote, Notice, StateNote } from '@/ui/notice';
import { PageHead, Panel } from '@/ui/panel';
import { Table, type Column } from '@/ui/table';
import { NewApiKeyForm, SecretShown, toAreaName } from './api-key-forms';

/** A day to change a program over; one that needs longer asks for it by the API. */
const OVERLAP_HOURS = 24;

/** Name, rights, use and state of a key, and what can be done with it. */
function useKeyColumns({
  onRenew,
  onEnd,
}: {
  onRenew: (key: ApiKey) => void;
  onEnd: (key: ApiKey) => void;
}): Column<ApiKey>[] {
  const t = useTranslate();
  const dates = useDates();
  return [
    { key: 'name', title: t('apiKeys.name'), isName: true, cell: (key) => key.name },
    {
      key: 'may',
      title: t('apiKeys.may'),
      cell: (key) =>
        t(key.mayWrite ? 'apiKeys.reads' : 'apiKeys.readsOnly', {
          role: t(`role.${key.role}`),
          areas: t.list(key.areas.map((area) => toAreaName(t, area))),
        }),
    },
    {
      key: 'used',
      title: t('account.lastSeen'),
      cell: (key) => (key.lastUsedAt === null ? t('apiKeys.neverUsed') : dates.atTime(key.lastUsedAt)),
    },
    {
      key: 'state',
      title: t('apiKeys.state'),
      cell: (key) => {
        if (!key.isLive) return t('apiKeys.dead', { name: key.createdByName });
        const ending = key.secrets.find(({ expiresAt }) => expiresAt !== null)?.expiresAt;
        return ending === undefined || ending === null
          ? t('apiKeys.live', { name: key.createdByName })
          : t('apiKeys.twoLive', { until: dates.atTime(ending) });
      },
    },
    {
      key: 'actions',
      title: t('table.actions'),
      isActions: true,
      cell: (key) => (
        <>
          <Button look="plain" onClick={() => onRenew(key)}>
            {t('apiKeys.renew', { name: key.name })}
          </Button>
          <Button look="plain" onClick={() => onEnd(key)}>
            {t('apiKeys.end', { name: key.name })}
          </Button>
        </>
      ),
    },
  ];
}

/** Which programs work with the records, and what they may do. */
export function ApiKeysPage() {
  const t = useTranslate();
  const toText = useProblemText();
  const { query, items } = useApiPages(routes.apiKeys.list, { query: { limit: 50 } });
  const [made, setMade] = useState<CreatedApiKey | null>(null);
  const rotate = useApiChange(routes.apiKeys.rotate, { onDone: ({ data }) => setMade(data) });
  const update = useApiChange(routes.apiKeys.update);
  const failure = rotate.error ?? update.error;
  const columns = useKeyColumns({
    onRenew: ({ id }) => rotate.mutate({ params: { id }, body: { overlapHours: OVERLAP_HOURS } }),
    onEnd: ({ id, version }) => update.mutate({ params: { id }, etag: `"v${version}"`, body: { archived: true } }),
  });
  return (
    <>
      <PageHead
        title={query.isSuccess && !query.hasNextPage ? t('apiKeys.title', { count: items.length }) : t('nav.apiKeys')}
        under={t('apiKeys.under')}
        actions={
          <FormDialog look="strong" action={t('apiKeys.add')} title={t('apiKeys.add')}>
            {(close) => <NewApiKeyForm onDone={close} />}
          </FormDialog>
        }
      />
      {failure === null ? null : <Notice role="alert">{toText(failure)}</Notice>}
      {query.error !== null && items.length === 0 ? (
        <FailedNote error={query.error} onRetry={() => void query.refetch()} />
      ) : null}
      {query.isPending ? <LoadingNote text={t('state.loading')} /> : null}
      {query.isSuccess && items.length === 0 ? (
        <StateNote title={t('apiKeys.none')}>{t('apiKeys.noneText')}</StateNote>
      ) : null}
      {items.length === 0 ? null : (
        <Panel label={t('nav.apiKeys')}>
          <Table caption={t('nav.apiKeys')} rows={items} rowKey={(key) => key.id} columns={columns} />
          <ListEnd query={query} />
        </Panel>
      )}
      <Dialog
        title={t('apiKeys.newSecret')}
        isOpen={made !== null}
        onClose={() => setMade(null)}
        closeText={t('action.close')}
      >
        {made === null ? null : <SecretShown apiKey={made} onDone={() => setMade(null)} />}
      </Dialog>
    </>
  );
}
