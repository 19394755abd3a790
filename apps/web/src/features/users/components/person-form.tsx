'use client';

import { routes, type Membership } from '@repo/contracts';
import { useState } from 'react';
import { callApi } from '@/lib/api/client';
import { useApi, useApiChange, useApiPages } from '@/lib/api/hooks';
import { choice, RecordForm, text, useRecordForm } from '@/lib/forms';
import { useTranslate, type Translate } from '@/lib/i18n/i18n';
import { isCustomerRole } from '@/lib/session/session';
import { Loaded } from '@/lib/states';
import { Button } from '@/ui/button';
import { FormActions } from '@/ui/field';
import { Notice } from '@/ui/notice';
import { createFirstPassword } from '../first-password';

const STAFF = ['engineer', 'installer', 'lead', 'administrator'] as const;
const OF_CUSTOMER = ['viewer', 'customer-administrator'] as const;
const ALL = [...STAFF, ...OF_CUSTOMER] as const;
type AnyRole = (typeof ALL)[number];

const roleField = (roles: readonly AnyRole[], t: Translate) => ({
  ...choice({
    label: 'people.role',
    choices: roles.map((value) => ({ value, label: `${t(`role.${value}`)}: ${t(`people.may.${value}`)}` })),
  }),
  isWide: true,
});

function Made({ email, password, onDone }: { email: string; password: string; onDone: () => void }) {
  const t = useTranslate();
  const [isCopied, setCopied] = useState(false);
  return (
    <>
      <Notice role="status">
        <p>{t('people.made', { email })}</p>
        <p>
          <code>{password}</code>
        </p>
        <p>{t('people.shownOnce')}</p>
      </Notice>
      <br />
      <FormActions>
        <Button onClick={() => void navigator.clipboard.writeText(password).then(() => setCopied(true))}>
          {t('people.copyPassword')}
        </Button>
        <Button look="strong" onClick={onDone}>
          {t('action.close')}
        </Button>
        <span role="status">{isCopied ? t('calculations.copied') : ''}</span>
      </FormActions>
    </>
  );
}

/** Adds a person. The first password is made here and shown once; it is never part of the stored draft. */
export function NewPersonForm({ onDone }: { onDone: () => void }) {
  const t = useTranslate();
  const [password] = useState(createFirstPassword);
  const [madeFor, setMadeFor] = useState<string | null>(null);
  const { items: customers } = useApiPages(routes.customers.list, { query: { limit: 200 } });
  const fields = {
    email: text({ label: 'signIn.email', type: 'email', isRequired: true, maxLength: 254 }),
    displayName: text({ label: 'account.name', isRequired: true, maxLength: 120 }),
    role: roleField(ALL, t),
    customerId: choice({
      label: 'fleet.customer',
      choices: [
        { value: 'none', label: t('people.pickCustomer') },
        ...customers.map(({ id, name }) => ({ value: id, label: name })),
      ],
    }),
  };
  const form = useRecordForm({
    name: 'person-new',
    fields,
    initial: { email: '', displayName: '', role: 'installer', customerId: 'none' },
    check: (values) =>
      isCustomerRole(values.role) && values.customerId === 'none'
        ? [{ field: 'customerId', text: t('fieldProblem.missing', { label: t('fleet.customer') }) }]
        : [],
  });
  const role = ALL.find((known) => known === form.drafts.role) ?? 'installer';
  const create = useApiChange(routes.users.createMembership);
  if (madeFor !== null) return <Made email={madeFor} password={password} onDone={onDone} />;
  return (
    <RecordForm
      form={form}
      groups={[
        { fields: ['email', 'displayName'] },
        { fields: ['role', ...(isCustomerRole(role) ? (['customerId'] as const) : [])] },
      ]}
      label={t('people.add')}
      submitText={t('people.add')}
      isPending={create.isPending}
      onSubmit={(values) =>
        create.mutate(
          {
            body: {
              id: form.id,
              ...values,
              customerId: isCustomerRole(values.role) ? values.customerId : null,
              password,
            },
          },
          {
            onError: form.takeFailure,
            onSuccess: () => {
              form.clear();
              setMadeFor(values.email);
            },
          },
        )
      }
    >
      <p>{t('people.passwordMade')}</p>
    </RecordForm>
  );
}

function ChangeForm({ person, etag, onDone }: { person: Membership; etag: string | null; onDone: () => void }) {
  const t = useTranslate();
  const params = { id: person.id };
  const fields = {
    displayName: text({ label: 'account.name', isRequired: true, maxLength: 120 }),
    role: roleField(person.customerId === null ? STAFF : OF_CUSTOMER, t),
    standing: choice({
      label: 'people.standing',
      choices: [
        { value: 'active', label: t('people.active') },
        { value: 'ended', label: t('people.ended') },
      ],
    }),
  };
  const toValues = (membership: Membership) => ({
    displayName: membership.displayName,
    role: membership.role,
    standing: membership.archivedAt === null ? ('active' as const) : ('ended' as const),
  });
  const form = useRecordForm({
    name: `person-${person.id}`,
    fields,
    initial: toValues(person),
    etag,
    readAgain: async () => {
      const answer = await callApi(routes.users.getMembership, { params });
      return { ...answer, data: toValues(answer.data) };
    },
  });
  const change = useApiChange(routes.users.updateMembership, {
    onDone: form.clearThen(onDone),
  });
  return (
    <RecordForm
      form={form}
      groups={[{ fields: ['displayName', 'role', 'standing'] }]}
      label={t('people.change')}
      submitText={t('action.save')}
      isPending={change.isPending}
      onSubmit={(_values, { standing, ...changed }) =>
        change.mutate(
          {
            params,
            etag: form.etag,
            body: { ...changed, ...(standing === undefined ? {} : { archived: standing === 'ended' }) },
          },
          { onError: form.takeFailure },
        )
      }
    >
      {form.drafts.standing === 'ended' ? <Notice role="status">{t('people.endMeans')}</Notice> : null}
    </RecordForm>
  );
}

export function ChangePersonForm({ id, onDone }: { id: string; onDone: () => void }) {
  const query = useApi(routes.users.getMembership, { params: { id } });
  return <Loaded query={query}>{({ data, etag }) => <ChangeForm person={data} etag={etag} onDone={onDone} />}</Loaded>;
}
