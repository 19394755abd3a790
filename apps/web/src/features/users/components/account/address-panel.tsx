'use client';

import { routes } from '@repo/contracts';
import { useApiChange } from '@/lib/api/hooks';
import { EntryForm, text, useEntryForm } from '@/lib/forms';
import { useTranslate } from '@/lib/i18n/i18n';
import { useSession } from '@/lib/session/session';
import { Panel } from '@/ui/panel';

const FIELDS = {
  email: text({
    label: 'signIn.email',
    hint: 'account.addressHint',
    type: 'email',
    autoComplete: 'email',
    isRequired: true,
  }),
};

/** The address one signs in with, and whether it is proven: only then can a forgotten password be set anew by a message. */
export function AddressPanel() {
  const t = useTranslate();
  const { me } = useSession();
  const form = useEntryForm({ name: 'address', fields: FIELDS, initial: { email: me.email } });
  const ask = useApiChange(routes.users.requestAddressProof);
  const answer = ask.data?.data;
  return (
    <Panel
      title={t('account.address')}
      note={me.emailProven ? t('account.addressProven') : t('account.addressUnproven')}
    >
      <EntryForm
        form={form}
        label={t('account.address')}
        submitText={t('account.proveAddress')}
        done={answer === undefined ? '' : answer.mailed ? t('account.proofSent') : t('account.noMail')}
        onSubmit={(body) => ask.mutateAsync({ body })}
      />
    </Panel>
  );
}
