'use client';

import { routes } from '@repo/contracts';
import { useApi, useApiChange, useTouch } from '@/lib/api/hooks';
import { EntryForm, text, useEntryForm } from '@/lib/forms';
import { useDates, useTranslate } from '@/lib/i18n/i18n';
import { Loaded, useProblemText } from '@/lib/states';
import { Button } from '@/ui/button';
import { Notice } from '@/ui/notice';
import { Panel } from '@/ui/panel';
import { Table } from '@/ui/table';
import { makePasskey, useCanUsePasskeys } from '../../passkeys';

const FIELDS = {
  name: text({
    label: 'passkeys.name',
    hint: 'passkeys.nameHint',
    isRequired: true,
    missingCode: 'place-missing',
    maxLength: 120,
  }),
};

function NewPasskey({ onAdded }: { onAdded?: (() => void) | undefined }) {
  const t = useTranslate();
  const touch = useTouch();
  const form = useEntryForm({ name: 'passkey', fields: FIELDS, initial: { name: '' } });
  return (
    <EntryForm
      form={form}
      label={t('passkeys.add')}
      submitText={t('passkeys.add')}
      onSubmit={async ({ name }) => {
        await makePasskey(name);
        form.clear();
        await touch(routes.passkeys.create);
        onAdded?.();
      }}
    />
  );
}

/** Passkeys of the account: what signs in without a password. */
export function PasskeysPanel({ onAdded }: { onAdded?: () => void }) {
  const t = useTranslate();
  const dates = useDates();
  const toText = useProblemText();
  const query = useApi(routes.passkeys.list, {});
  const remove = useApiChange(routes.passkeys.remove);
  const canUse = useCanUsePasskeys();
  return (
    <Panel title={t('passkeys.title')}>
      <p>{t('passkeys.about')}</p>
      <br />
      <Loaded query={query}>
        {({ data }) =>
          data.items.length === 0 ? null : (
            <Table
              caption={t('passkeys.title')}
              rows={data.items}
              rowKey={(passkey) => passkey.id}
              columns={[
                { key: 'name', title: t('passkeys.name'), isName: true, cell: (passkey) => passkey.name },
                { key: 'since', title: t('account.since'), cell: (passkey) => dates.atDay(passkey.createdAt) },
                {
                  key: 'used',
                  title: t('account.lastSeen'),
                  cell: (passkey) => (passkey.lastUsedAt === null ? '–' : dates.atTime(passkey.lastUsedAt)),
                },
                {
                  key: 'remove',
                  title: t('table.actions'),
                  isActions: true,
                  cell: (passkey) => (
                    <Button look="plain" onClick={() => remove.mutate({ params: { id: passkey.id } })}>
                      {t('passkeys.remove', { name: passkey.name })}
                    </Button>
                  ),
                },
              ]}
            />
          )
        }
      </Loaded>
      {remove.error === null ? null : <Notice role="alert">{toText(remove.error)}</Notice>}
      {canUse ? <NewPasskey onAdded={onAdded} /> : <p>{t('passkeys.needName')}</p>}
    </Panel>
  );
}
