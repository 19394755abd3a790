'use client';

import { routes, type Me, type OpenedInvitation } from '@repo/contracts';
import { useQueryClient } from '@tanstack/react-query';
import { useRouter } from 'next/navigation';
import { useState } from 'react';
import { CredentialsForm, EntryPage, LeaveButton } from '@/features/users';
import { callApi } from '@/lib/api/client';
import { useApi, useApiChange } from '@/lib/api/hooks';
import { EntryForm, newPassword, text, useEntryForm } from '@/lib/forms';
import { useDates, useTranslate } from '@/lib/i18n/i18n';
import { useLinkToken } from '@/lib/link-token';
import { useProblemText } from '@/lib/states';
import { Button, ButtonLink } from '@/ui/button';
import { FormActions } from '@/ui/field';
import { LoadingNote, Notice } from '@/ui/notice';
import { Segments } from '@/ui/segments';
import { Facts } from '@/ui/panel';
import styles from './people.module.css';

type Way = 'provider' | 'new' | 'existing' | 'me';

interface StepProps {
  token: string;
  invitation: OpenedInvitation;
  onAccepted: () => void;
}

const FIELDS = {
  displayName: text({ label: 'account.name', autoComplete: 'name', isRequired: true, maxLength: 120 }),
  email: text({
    label: 'signIn.email',
    hint: 'invitation.emailHint',
    type: 'email',
    autoComplete: 'username',
    isRequired: true,
  }),
  newPassword: newPassword(),
};

function NewAccountForm({ token, invitation, onAccepted }: StepProps) {
  const t = useTranslate();
  const { email, displayName } = invitation;
  const form = useEntryForm({
    name: 'invitation',
    fields: FIELDS,
    initial: { email, displayName, newPassword: '' },
  });
  const accept = useApiChange(routes.invitations.accept, { onDone: onAccepted });
  return (
    <EntryForm
      form={form}
      label={t('invitation.new')}
      look="strong"
      submitText={t('invitation.acceptNew')}
      onSubmit={(values) => accept.mutateAsync({ body: { token, as: { account: 'new', ...values } } })}
    />
  );
}

function AsMe({ token, me, onAccepted }: { token: string; me: Me; onAccepted: () => void }) {
  const t = useTranslate();
  const toText = useProblemText();
  const accept = useApiChange(routes.invitations.acceptAsMe, { onDone: onAccepted });
  return (
    <>
      <p>{t('invitation.asMeText', { name: me.displayName, email: me.email })}</p>
      <br />
      <FormActions>
        <Button look="strong" disabled={accept.isPending} onClick={() => accept.mutate({ body: { token } })}>
          {t('invitation.acceptAs', { name: me.displayName })}
        </Button>
      </FormActions>
      {accept.error === null ? null : (
        <>
          <br />
          <Notice role="alert">{toText(accept.error)}</Notice>
        </>
      )}
    </>
  );
}

function Accept({ token, invitation, me }: { token: string; invitation: OpenedInvitation; me: Me | null }) {
  const t = useTranslate();
  const router = useRouter();
  const client = useQueryClient();
  const [way, setWay] = useState<Way>(invitation.providerName !== null ? 'provider' : me === null ? 'new' : 'me');
  const onAccepted = (): void => {
    client.clear();
    router.replace('/');
  };
  const ways = [
    ...(invitation.providerName === null ? [] : [{ value: 'provider' as const, label: invitation.providerName }]),
    ...(me === null ? [] : [{ value: 'me' as const, label: t('invitation.asMe') }]),
    { value: 'new' as const, label: t('invitation.new') },
    { value: 'existing' as const, label: t('invitation.existing') },
  ];
  return (
    <>
      <div className={styles['ways']}>
        <Segments<Way> label={t('invitation.how')} value={way} choices={ways} onChange={setWay} />
      </div>
      {way === 'provider' && invitation.providerName !== null ? (
        <LeaveButton
          look="strong"
          text={t('provider.accept', { name: invitation.providerName })}
          begin={() => callApi(routes.identityProviders.beginAcceptance, { body: { token } })}
          returnTo="/"
        />
      ) : null}
      {way === 'new' ? <NewAccountForm token={token} invitation={invitation} onAccepted={onAccepted} /> : null}
      {way === 'existing' ? (
        <CredentialsForm
          name="invitation-existing"
          label={t('invitation.existing')}
          submitText={t('invitation.acceptExisting')}
          busyText={t('signIn.busy')}
          send={async (given) => {
            await callApi(routes.invitations.accept, { body: { token, as: { account: 'existing', ...given } } });
            onAccepted();
          }}
        />
      ) : null}
      {way === 'me' && me !== null ? <AsMe token={token} me={me} onAccepted={onAccepted} /> : null}
    </>
  );
}

/** Where the link of an invitation leads: who invites, to what, and how to accept. */
export function InvitationPage() {
  const t = useTranslate();
  const dates = useDates();
  const toText = useProblemText();
  const token = useLinkToken();
  const opened = useApi(routes.invitations.read, { body: { token: token ?? '' } }, { isEnabled: token !== null });
  const session = useApi(routes.users.me, {});
  if (opened.error !== null) {
    return (
      <EntryPage title={t('invitation.ended')}>
        <Notice role="alert">{toText(opened.error)}</Notice>
        <br />
        <ButtonLink href="/">{t('state.home')}</ButtonLink>
      </EntryPage>
    );
  }
  if (token === null || opened.data === undefined || session.isPending) {
    return (
      <EntryPage title={t('invitation.opening')}>
        <LoadingNote text={t('state.loading')} />
      </EntryPage>
    );
  }
  const invitation = opened.data.data;
  return (
    <EntryPage title={t('invitation.title', { organisation: invitation.organisationName })}>
      <Facts
        rows={[
          { name: t('people.role'), value: t(`role.${invitation.role}`) },
          ...(invitation.customerName === null ? [] : [{ name: t('fleet.customer'), value: invitation.customerName }]),
          { name: t('invitation.until'), value: dates.atDay(invitation.expiresAt) },
        ]}
      />
      <br />
      <Accept token={token} invitation={invitation} me={session.data?.data ?? null} />
    </EntryPage>
  );
}
