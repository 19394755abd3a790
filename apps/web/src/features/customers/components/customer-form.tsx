'use client';

import { routes, type Customer } from '@repo/contracts';
import { callApi } from '@/lib/api/client';
import { useApiChange } from '@/lib/api/hooks';
import { area, RecordForm, text, useRecordForm } from '@/lib/forms';
import { useTranslate } from '@/lib/i18n/i18n';

const FIELDS = {
  name: text({ label: 'customers.name', isRequired: true, maxLength: 120 }),
  trade: text({ label: 'customers.trade', hint: 'customers.tradeHint' }),
  contactName: text({ label: 'customers.person' }),
  contactEmail: text({ label: 'customers.email', type: 'email', maxLength: 254 }),
  contactPhone: text({ label: 'customers.phone', type: 'tel' }),
  note: area({ label: 'customers.note' }),
};
const GROUPS = [
  { fields: ['name', 'trade'] },
  { title: 'customers.contact', fields: ['contactName', 'contactEmail', 'contactPhone'] },
  { fields: ['note'] },
] as const;
const BLANK = { name: '', trade: '', contactName: '', contactEmail: '', contactPhone: '', note: '' };

export function NewCustomerForm({ onDone }: { onDone: (customer: Customer) => void }) {
  const t = useTranslate();
  const form = useRecordForm({ name: 'customer-new', fields: FIELDS, initial: BLANK });
  const create = useApiChange(routes.customers.create, {
    onDone: form.clearThen(({ data }) => onDone(data)),
  });
  return (
    <RecordForm
      form={form}
      groups={GROUPS}
      label={t('customers.add')}
      submitText={t('customers.add')}
      isPending={create.isPending}
      onSubmit={(values) => create.mutate({ body: { id: form.id, ...values } }, { onError: form.takeFailure })}
    />
  );
}

export function ChangeCustomerForm({
  customer,
  etag,
  onDone,
}: {
  customer: Customer;
  etag: string | null;
  onDone: () => void;
}) {
  const t = useTranslate();
  const params = { id: customer.id };
  const form = useRecordForm({
    name: `customer-${customer.id}`,
    fields: FIELDS,
    initial: customer,
    etag,
    readAgain: () => callApi(routes.customers.get, { params }),
  });
  const change = useApiChange(routes.customers.update, {
    onDone: form.clearThen(onDone),
  });
  return (
    <RecordForm
      form={form}
      groups={GROUPS}
      label={t('customers.change')}
      submitText={t('action.save')}
      isPending={change.isPending}
      onSubmit={(_values, changed) =>
        change.mutate({ params, etag: form.etag, body: changed }, { onError: form.takeFailure })
      }
    />
  );
}
