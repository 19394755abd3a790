'use client';

import { routes } from '@repo/contracts';
import { useQueryClient } from '@tanstack/react-query';
import { useState } from 'react';
import { useApi, useApiChange } from '@/lib/api/hooks';
import { useFormErrors } from '@/lib/forms/use-form-errors';
import { useDates, useTranslate } from '@/lib/i18n/i18n';
import { isApiError } from '@/lib/api/problem';
import { Loaded, useProblemText } from '@/lib/states';
import { Button } from '@/ui/button';
import { ErrorSummary, Form, FormActions, TextField } from '@/ui/field';
import { Notice } from '@/ui/notice';
import { Sheet } from '@/ui/sheet';
import { Table } from '@/ui/table';
import { canUsePasskeys, makePasskey } from '../../passkeys';

function NewPasskey() {
  const t = useTranslate();
  const client = useQueryClient();
  const [name, setName] = useState('');
  const [isBusy, setBusy] = useState(false);
  const form = useFormErrors('passkey', { name: t('passkeys.name') });
  const submit = async (): Promise<void> => {
    if (form.refuse(name.trim() === '' ? [{ field: 'name', text: t('passkeys.nameMissing') }] : [])) return;
    setBusy(true);
    try {
      await makePasskey(name.trim());
      setName('');
      await client.invalidateQueries();
    } catch (error) {
      if (isApiError(error)) form.takeFailure(error);
      else form.refuse([{ field: null, text: t('passkeys.brokenOff') }]);
    } finally {
      setBusy(false);
    }
  };
  return (
    <Form onSubmit={() => void submit()} label={t('passkeys.add')}>
      <ErrorSummary title={t('form.problem')} summary={form.summary} />
      <TextField
        id={form.idOf('name')}
        label={t('passkeys.name')}
        hint={t('passkeys.nameHint')}
        error={form.errorOf('name')}
        value={name}
        onChange={(typed) => {
          setName(typed);
          form.settle('name');
        }}
      />
      <FormActions>
        <Button type="submit" disabled={isBusy}>
          {t('passkeys.add')}
        </Button>
      </FormActions>
    </Form>
  );
}

/** Passkeys of the account: what signs in without a password. */
export function PasskeysSheet() {
  const t = useTranslate();
  const dates = useDates();
  const toText = useProblemText();
  const query = useApi(routes.passkeys.list, {});
  const remove = useApiChange(routes.passkeys.remove);
  return (
    <Sheet title={t('passkeys.title')}>
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
      {canUsePasskeys() ? <NewPasskey /> : <p>{t('passkeys.needName')}</p>}
    </Sheet>
  );
}
