'use client';

import { routes, type Machine } from '@repo/contracts';
import { useRouter } from 'next/navigation';
import { Suspense, useMemo, useState } from 'react';
import { useApi, useApiChange, useApiPages } from '@/lib/api/hooks';
import { area, choice, combo, RecordForm, text, useRecordForm } from '@/lib/forms';
import { useTranslate } from '@/lib/i18n/i18n';
import { uniqueChoices, useSearchedChoices } from '@/lib/searched-list';
import { isCustomerRole, useRole } from '@/lib/session/session';
import { useUrlState } from '@/lib/url-state';
import { LoadingNote } from '@/ui/notice';
import { PageHead, Panel } from '@/ui/panel';

const ALL = {};
const atSite = ({ id, name, siteName }: Machine) => ({ value: id, label: `${name}, ${siteName}` });
const ofCustomer = ({ id, name, customerName }: Machine) => ({ value: id, label: `${name}, ${customerName}` });

/** Machines to choose from; the one whose page led here is among them, however many there are. */
function useMachines(toChoice: typeof atSite, askedId: string) {
  const { choices, isLong, setSearch } = useSearchedChoices(routes.machines.list, ALL, toChoice);
  const isMissing = isLong && askedId !== '' && !choices.some(({ value }) => value === askedId);
  const asked = useApi(routes.machines.get, { params: { id: askedId } }, { isEnabled: isMissing }).data?.data;
  const all = useMemo(
    () => (asked === undefined ? choices : uniqueChoices([toChoice(asked), ...choices])),
    [asked, choices, toChoice],
  );
  return { choices: all, isLong, setSearch };
}

/** Opens an issue; for a customer: reports a problem with one of their machines. */
export function NewIssuePage() {
  const t = useTranslate();
  const router = useRouter();
  const url = useUrlState();
  const isCustomer = isCustomerRole(useRole());
  const [asked] = useState({ machineId: url.get('machine') ?? '', circuitId: url.get('circuit') ?? '' });
  const [machineId, setMachineId] = useState(asked.machineId);
  const { choices, isLong, setSearch } = useMachines(isCustomer ? atSite : ofCustomer, asked.machineId);
  const { items: circuits } = useApiPages(
    routes.circuits.list,
    { query: { machineId, limit: 200 } },
    { isEnabled: machineId !== '' },
  );
  const form = useRecordForm({
    name: `issue:${asked.machineId}`,
    fields: {
      // So many that one can look through them are chosen from as a phone does it.
      machineId: isLong
        ? combo({
            label: 'fleet.machine',
            isRequired: true,
            choices,
            onSearch: setSearch,
            emptyText: t('issues.noMachineFits'),
          })
        : choice<string>({ label: 'fleet.machine', choices, noneText: t('issues.pickMachine') }),
      circuitId: choice<string>({
        label: 'fleet.circuit',
        choices: [
          { value: '', label: t('issues.wholeMachine') },
          ...circuits.map((circuit) => ({ value: circuit.id, label: circuit.name })),
        ],
      }),
      title: {
        ...text({ label: 'issues.titleField', hint: 'issues.titleHint', isRequired: true, maxLength: 160 }),
        isWide: true,
      },
      description: area({ label: 'issues.description', hint: 'issues.descriptionHint' }),
    },
    initial: { ...asked, title: '', description: '' },
    follow: (field) => (field === 'machineId' ? { circuitId: '' } : {}),
  });
  if (form.drafts.machineId !== machineId) setMachineId(form.drafts.machineId);
  const create = useApiChange(routes.issues.create, {
    onDone: form.clearThen(({ data }) => router.push(`/issues/${data.id}`)),
  });
  return (
    <>
      <PageHead
        crumbsLabel={t('nav.crumbs')}
        crumbs={[{ name: isCustomer ? t('nav.issuesOfCustomer') : t('nav.issues'), href: '/issues' }]}
        title={isCustomer ? t('portal.report') : t('issues.new')}
        under={isCustomer ? t('portal.reportUnder') : undefined}
      />
      <Panel label={t('issues.new')}>
        <Suspense fallback={<LoadingNote text={t('state.loading')} />}>
          <RecordForm
            form={form}
            groups={[{ fields: ['machineId', 'circuitId', 'title', 'description'] }]}
            label={t('issues.new')}
            cautions={isCustomer ? [t('caution.stopFirst'), t('caution.skin')] : []}
            submitText={isCustomer ? t('portal.send') : t('issues.create')}
            isPending={create.isPending}
            onSubmit={({ circuitId, ...values }) =>
              create.mutate(
                {
                  body: {
                    id: form.id,
                    ...values,
                    circuitId: circuitId === '' ? null : circuitId,
                    kind: isCustomer ? 'reported' : 'other',
                  },
                },
                { onError: form.takeFailure },
              )
            }
          />
        </Suspense>
      </Panel>
    </>
  );
}
