'use client';

import { routes, type IdentityProvider } from '@repo/contracts';
import { useApi, useApiChange } from '@/lib/api/hooks';
import { FormDialog, RecordForm, secret, text, useRecordForm } from '@/lib/forms';
import { useTranslate } from '@/lib/i18n/i18n';
import { useMay, useSession } from '@/lib/session/session';
import { Loaded, useProblemText } from '@/lib/states';
import { Button } from '@/ui/button';
import { FormActions } from '@/ui/field';
import { Notice } from '@/ui/notice';
import { Facts, Panel } from '@/ui/panel';

function NewProviderForm({ onDone }: { onDone: () => void }) {
  const t = useTranslate();
  const form = useRecordForm({
    name: 'identity-provider-new',
    fields: {
      name: text({ label: 'provider.name', hint: 'provider.nameHint', isRequired: true, maxLength: 120 }),
      issuer: {
        ...text({ label: 'provider.issuer', hint: 'provider.issuerHint', isRequired: true, maxLength: 400 }),
        isWide: true,
      },
      clientId: text({ label: 'provider.clientId', isRequired: true, maxLength: 400 }),
      clientSecret: secret({ label: 'provider.clientSecret' }),
    },
    initial: { name: '', issuer: '', clientId: '', clientSecret: '' },
    check: ({ issuer }) => (URL.canParse(issuer) ? [] : [{ field: 'issuer', text: t('provider.issuerNoAddress') }]),
  });
  const create = useApiChange(routes.identityProviders.create, { onDone });
  return (
    <RecordForm
      form={form}
      groups={[{ fields: ['name', 'issuer', 'clientId', 'clientSecret'] }]}
      label={t('provider.add')}
      submitText={t('provider.add')}
      isPending={create.isPending}
      onSubmit={(values) =>
        create.mutate(
          { body: { id: form.id, ...values } },
          { onError: form.takeFailure, onSuccess: () => form.clear() },
        )
      }
    />
  );
}

function Standing({ provider }: { provider: IdentityProvider }) {
  const t = useTranslate();
  const may = useMay();
  const { me } = useSession();
  const toText = useProblemText();
  const end = useApiChange(routes.identityProviders.update);
  return (
    <>
      <Facts
        rows={[
          { name: t('provider.name'), value: provider.name },
          { name: t('provider.issuer'), value: provider.issuer },
          { name: t('provider.clientId'), value: provider.clientId },
          { name: t('provider.redirectUri'), value: provider.redirectUri },
          {
            name: t('provider.address'),
            value: `${window.location.origin}/sign-in?organisation=${me.membership.organisationId}`,
          },
        ]}
      />
      {may(routes.identityProviders.update) ? (
        <>
          <br />
          <FormActions>
            <Button
              disabled={end.isPending}
              onClick={() =>
                end.mutate({
                  params: { id: provider.id },
                  etag: `"v${provider.version}"`,
                  body: { archived: true },
                })
              }
            >
              {t('provider.end')}
            </Button>
          </FormActions>
        </>
      ) : null}
      {end.error === null ? null : <Notice role="alert">{toText(end.error)}</Notice>}
    </>
  );
}

/** The organisation's own sign-in, on its page. */
export function ProviderPanel() {
  const t = useTranslate();
  const may = useMay();
  const query = useApi(routes.identityProviders.list, {});
  return (
    <Panel title={t('provider.title')}>
      <Loaded query={query}>
        {({ data }) => {
          const [provider] = data.items;
          if (provider !== undefined) return <Standing provider={provider} />;
          return (
            <>
              <p>{t('provider.none')}</p>
              <br />
              {may(routes.identityProviders.create) ? (
                <FormDialog action={t('provider.add')} title={t('provider.add')}>
                  {(close) => <NewProviderForm onDone={close} />}
                </FormDialog>
              ) : null}
            </>
          );
        }}
      </Loaded>
    </Panel>
  );
}
