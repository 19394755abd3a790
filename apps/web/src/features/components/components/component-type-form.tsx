'use client';

import { COMPONENT_KINDS, routes, type ComponentKind, type ComponentType } from '@repo/contracts';
import { toSi } from '@repo/quantity';
import { useMemo, useState } from 'react';
import { callApi } from '@/lib/api/client';
import { useApiChange } from '@/lib/api/hooks';
import { area, RecordForm, text, useRecordForm } from '@/lib/forms';
import { useTranslate } from '@/lib/i18n/i18n';
import { usePressureUnit } from '@/lib/quantity/pressure-unit';
import { SelectField } from '@/ui/field';
import { StackedPanels } from '@/ui/stack';
import { listFigureDoubts } from '../doubts';
import { figuresField, type Figures } from '../figures-field';

function useFields(kind: ComponentKind) {
  const t = useTranslate();
  const { unit } = usePressureUnit();
  return useMemo(
    () => ({
      name: text({ label: 'componentTypes.name', isRequired: true, maxLength: 120 }),
      partNumber: text({ label: 'componentTypes.partNumber' }),
      figures: figuresField(kind, unit, t),
      note: area({ label: 'customers.note' }),
    }),
    [kind, unit, t],
  );
}

/** A rod that does not go into its bore would leave an area below nothing to pull with. */
function useCheck() {
  const t = useTranslate();
  return ({ figures: { bore, rod } }: { figures: Figures }) =>
    bore !== undefined &&
    rod !== undefined &&
    toSi(rod.value, rod.unit, 'length') > toSi(bore.value, bore.unit, 'length')
      ? [{ field: 'figures.rod', text: t('componentTypes.rodOverBore') }]
      : [];
}

function NewOfKind({ kind, onDone }: { kind: ComponentKind; onDone: (type: ComponentType) => void }) {
  const t = useTranslate();
  const { unit } = usePressureUnit();
  const form = useRecordForm({
    name: `component-type-new-${kind}`,
    fields: useFields(kind),
    check: useCheck(),
    initial: { name: '', partNumber: '', figures: {}, note: '' },
  });
  const create = useApiChange(routes.componentTypes.create, {
    onDone: form.clearThen(({ data }) => onDone(data)),
  });
  return (
    <RecordForm
      form={form}
      groups={[{ fields: ['name', 'partNumber', 'figures', 'note'] }]}
      label={t('componentTypes.add')}
      cautions={[t('caution.newRating')]}
      submitText={t('componentTypes.add')}
      isPending={create.isPending}
      question={({ name, figures }) => listFigureDoubts({ kind, name }, figures, {}, unit, t)}
      onSubmit={(values) => create.mutate({ body: { id: form.id, kind, ...values } }, { onError: form.takeFailure })}
    />
  );
}

/** The kind comes first: it decides which figures are asked for, and stays. */
export function NewComponentTypeForm({ onDone }: { onDone: (type: ComponentType) => void }) {
  const t = useTranslate();
  const [kind, setKind] = useState<ComponentKind | null>(null);
  return (
    <StackedPanels>
      <SelectField
        label={t('components.kind')}
        hint={t('componentTypes.kindHint')}
        value={kind ?? ''}
        choices={[
          { value: '', label: t('calculations.pick') },
          ...COMPONENT_KINDS.map((value) => ({ value, label: t.find(`componentKind.${value}`) ?? value })),
        ]}
        onChange={(value) => setKind(COMPONENT_KINDS.find((known) => known === value) ?? null)}
      />
      {kind === null ? null : <NewOfKind key={kind} kind={kind} onDone={onDone} />}
    </StackedPanels>
  );
}

/** Changes a type's figures; each change is a revision with its reason. */
export function ComponentTypeForm({
  type,
  etag,
  onDone,
}: {
  type: ComponentType;
  etag: string | null;
  onDone: () => void;
}) {
  const t = useTranslate();
  const { unit } = usePressureUnit();
  const params = { id: type.id };
  const figureFields = useFields(type.kind);
  const fields = useMemo(
    () => ({
      ...figureFields,
      reason: area({ label: 'settings.reason', hint: 'componentTypes.reasonHint', isRequired: true }),
    }),
    [figureFields],
  );
  const form = useRecordForm({
    name: `component-type-${type.id}`,
    fields,
    check: useCheck(),
    initial: { ...type, reason: '' },
    etag,
    readAgain: async () => {
      const answer = await callApi(routes.componentTypes.get, { params });
      return { ...answer, data: { ...answer.data, reason: '' } };
    },
  });
  const change = useApiChange(routes.componentTypes.update, {
    onDone: form.clearThen(onDone),
  });
  return (
    <RecordForm
      form={form}
      groups={[{ fields: ['name', 'partNumber', 'figures', 'note', 'reason'] }]}
      label={t('componentTypes.change')}
      cautions={[t('caution.rating')]}
      submitText={t('componentTypes.saveRevision', { revision: type.revision + 1 })}
      isPending={change.isPending}
      question={({ name, figures }) => listFigureDoubts({ kind: type.kind, name }, figures, type.figures, unit, t)}
      onSubmit={({ reason }, changed) =>
        change.mutate({ params, etag: form.etag, body: { ...changed, reason } }, { onError: form.takeFailure })
      }
    />
  );
}
