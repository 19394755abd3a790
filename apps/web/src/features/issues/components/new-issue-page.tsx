'use client';

import { routes } from '@repo/contracts';
import { useRouter } from 'next/navigation';
import { useApiChange, useApiPages } from '@/lib/api/hooks';
import { useDraft } from '@/lib/drafts/use-draft';
import { useFormErrors } from '@/lib/forms/use-form-errors';
import { useTranslate } from '@/lib/i18n/i18n';
import { createId } from '@/lib/ids';
import { isCustomerRole, useRole } from '@/lib/session/session';
import { useUrlState } from '@/lib/url-state';
import { Button } from '@/ui/button';
import { ErrorSummary, Form, FormActions, SelectField, TextArea, TextField } from '@/ui/field';
import { Caution, Notice } from '@/ui/notice';
import { PageHead, Sheet } from '@/ui/sheet';

/** Opens an issue; for a customer: reports a problem with one of their machines. */
export function NewIssuePage() {
  const t = useTranslate();
  const router = useRouter();
  const url = useUrlState();
  const isCustomer = isCustomerRole(useRole());
  const initial = {
    id: createId(),
    machineId: url.get('machine') ?? '',
    circuitId: url.get('circuit') ?? '',
    title: t('table.actions'),
    isActions: true,
    description: '',
  };
  const { draft, setDraft, clearDraft, isRestored } = useDraft(`issue:${initial.machineId}`, initial);
  const { items: machines } = useApiPages(routes.machines.list, { query: { limit: 200 } });
  const { items: circuits } = useApiPages(
    routes.circuits.list,
    { query: { machineId: draft.machineId, limit: 200 } },
    { isEnabled: draft.machineId !== '' },
  );
  const labels = {
    machineId: t('fleet.machine'),
    circuitId: t('fleet.circuit'),
    title: t('issues.titleField'),
    description: t('issues.description'),
  };
  const form = useFormErrors('issue', labels);
  const change = (part: Partial<typeof draft>): void => {
    setDraft(part);
    for (const field of Object.keys(part)) form.settle(field);
  };
  const create = useApiChange(routes.issues.create, {
    onDone: ({ data }) => {
      clearDraft({ ...initial, id: createId() });
      router.push(`/issues/${data.id}`);
    },
  });
  const submit = (): void => {
    const found = (['machineId', 'title'] as const)
      .filter((field) => draft[field].trim() === '')
      .map((field) => ({ field, text: t('fieldProblem.missing', { label: labels[field] }) }));
    if (form.refuse(found)) return;
    create.mutate(
      {
        body: {
          id: draft.id,
          machineId: draft.machineId,
          circuitId: draft.circuitId === '' ? null : draft.circuitId,
          kind: isCustomer ? 'reported' : 'other',
          title: draft.title.trim(),
          description: draft.description.trim(),
        },
      },
      { onError: form.takeFailure },
    );
  };
  return (
    <>
      <PageHead
        crumbsLabel={t('nav.crumbs')}
        crumbs={[{ name: isCustomer ? t('nav.issuesOfCustomer') : t('nav.issues'), href: '/issues' }]}
        title={isCustomer ? t('portal.report') : t('issues.new')}
        under={isCustomer ? t('portal.reportUnder') : undefined}
      />
      <Sheet label={t('issues.new')}>
        <Form onSubmit={submit} label={t('issues.new')}>
          <ErrorSummary title={t('form.problem')} summary={form.summary} />
          {isRestored ? <Notice role="status">{t('form.restored')}</Notice> : null}
          {isCustomer ? (
            <Caution title={t('caution.title')} lines={[t('caution.stopFirst'), t('caution.skin')]} />
          ) : null}
          <SelectField
            id={form.idOf('machineId')}
            label={labels.machineId}
            error={form.errorOf('machineId')}
            value={draft.machineId}
            choices={[
              { value: '', label: t('issues.pickMachine') },
              ...machines.map((machine) => ({
                value: machine.id,
                label: isCustomer ? `${machine.name}, ${machine.siteName}` : `${machine.name}, ${machine.customerName}`,
              })),
            ]}
            onChange={(machineId) => change({ machineId, circuitId: '' })}
          />
          <SelectField
            id={form.idOf('circuitId')}
            label={labels.circuitId}
            error={form.errorOf('circuitId')}
            value={draft.circuitId}
            choices={[
              { value: '', label: t('issues.wholeMachine') },
              ...circuits.map((circuit) => ({ value: circuit.id, label: circuit.name })),
            ]}
            onChange={(circuitId) => change({ circuitId })}
          />
          <TextField
            id={form.idOf('title')}
            label={labels.title}
            hint={t('issues.titleHint')}
            error={form.errorOf('title')}
            maxLength={160}
            value={draft.title}
            onChange={(title) => change({ title })}
          />
          <TextArea
            id={form.idOf('description')}
            label={labels.description}
            hint={t('issues.descriptionHint')}
            error={form.errorOf('description')}
            value={draft.description}
            onChange={(description) => change({ description })}
          />
          <FormActions>
            <Button look="strong" type="submit" disabled={create.isPending}>
              {isCustomer ? t('portal.send') : t('issues.create')}
            </Button>
            <Button look="plain" onClick={() => clearDraft({ ...initial, id: createId() })}>
              {t('form.discard')}
            </Button>
          </FormActions>
        </Form>
      </Sheet>
    </>
  );
}
