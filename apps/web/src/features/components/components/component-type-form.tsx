'use client';

import { routes, type ComponentType } from '@repo/contracts';
import { getKindInfo } from '@repo/quantity';
import { useQueryClient } from '@tanstack/react-query';
import { useState } from 'react';
import { useApiChange } from '@/lib/api/hooks';
import { isApiError } from '@/lib/api/problem';
import { useDraft } from '@/lib/drafts/use-draft';
import { useFormErrors } from '@/lib/forms/use-form-errors';
import { useTranslate } from '@/lib/i18n/i18n';
import { usePressureUnit } from '@/lib/quantity/pressure-unit';
import { QuantityField, readQuantity, type QuantityDraft } from '@/lib/quantity/quantity-field';
import { Button } from '@/ui/button';
import { ErrorSummary, FieldRow, Form, FormActions, TextArea, TextField } from '@/ui/field';
import { Caution, Notice } from '@/ui/notice';
import { listFigures, toFigureKind, useFigureLabel } from '../figures';

interface TypeDraft {
  name: string;
  reason: string;
  note: string;
  figures: Record<string, QuantityDraft & { source: string }>;
}

function toInitial(type: ComponentType, unit: string): TypeDraft {
  const figures: TypeDraft['figures'] = {};
  for (const name of listFigures(type.kind)) {
    const figure = type.figures[name];
    const kind = toFigureKind(type.kind, name);
    const usual = kind === 'pressure' ? unit : (getKindInfo(kind).displayUnits[0]?.unit ?? '1');
    figures[name] =
      figure === undefined
        ? { text: '', unit: usual, source: '' }
        : {
            text: figure.digits === undefined ? String(figure.value) : figure.value.toFixed(figure.digits),
            unit: figure.unit,
            source: figure.source,
          };
  }
  return { name: type.name, reason: '', note: type.note, figures };
}

/** Changes a type's figures. Whoever saved meanwhile is not overwritten: the newer figures are shown, the typed ones stay. */
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
  const label = useFigureLabel();
  const client = useQueryClient();
  const initial = toInitial(type, unit);
  const { draft, setDraft, clearDraft, isRestored } = useDraft(`component-type:${type.id}`, initial);
  const [isStale, setStale] = useState(false);
  const names = Object.keys(initial.figures);
  const labels: Record<string, string> = {
    name: t('componentTypes.name'),
    reason: t('settings.reason'),
    figures: t('componentTypes.figures'),
    ...Object.fromEntries(
      names.flatMap((name) => [
        [name, label(name)],
        [`${name}Source`, t('componentTypes.sourceOf', { name: label(name) })],
      ]),
    ),
  };
  const form = useFormErrors('type', labels);
  const change = useApiChange(routes.componentTypes.update, {
    onDone: () => {
      clearDraft();
      onDone();
    },
  });

  const submit = (): void => {
    const found: { field: string; text: string }[] = [];
    const figures: Record<string, { value: number; unit: string; digits?: number; source: string }> = {};
    for (const name of names) {
      const typed = draft.figures[name];
      if (typed === undefined) continue;
      const reading = readQuantity(typed, toFigureKind(type.kind, name));
      if (!reading.ok) {
        found.push({
          field: name,
          text: t.find(`fieldProblem.${reading.code}`, { label: label(name) }) ?? t('problem.unknown'),
        });
      } else if (reading.quantity !== null) {
        if (typed.source.trim() === '') {
          found.push({ field: `${name}Source`, text: t('componentTypes.sourceMissing', { name: label(name) }) });
        }
        figures[name] = { ...reading.quantity, source: typed.source.trim() };
      }
    }
    if (draft.reason.trim() === '')
      found.push({ field: 'reason', text: t('fieldProblem.missing', { label: t('settings.reason') }) });
    if (form.refuse(found)) return;
    setStale(false);
    change.mutate(
      {
        params: { id: type.id },
        etag: etag ?? undefined,
        body: { name: draft.name.trim(), note: draft.note.trim(), reason: draft.reason.trim(), figures },
      },
      {
        onError: (error) => {
          if (isApiError(error) && error.code === 'request.stale') {
            setStale(true);
            void client.invalidateQueries();
          } else form.takeFailure(error);
        },
      },
    );
  };

  const setFigure = (name: string, change_: Partial<QuantityDraft & { source: string }>): void => {
    const before = draft.figures[name] ?? { text: '', unit: '1', source: '' };
    setDraft({ figures: { ...draft.figures, [name]: { ...before, ...change_ } } });
  };
  return (
    <Form onSubmit={submit} label={t('componentTypes.change')}>
      <ErrorSummary title={t('form.problem')} errors={form.summary} />
      {isRestored ? <Notice role="status">{t('form.restored')}</Notice> : null}
      {isStale ? (
        <Notice role="alert">
          <p>{t('form.stale', { revision: type.revision })}</p>
          <Button onClick={() => clearDraft(toInitial(type, unit))}>{t('form.takeTheirs')}</Button>
        </Notice>
      ) : null}
      <Caution title={t('caution.title')} lines={[t('caution.rating')]} />
      <TextField
        id={form.idOf('name')}
        label={t('componentTypes.name')}
        error={form.errorOf('name')}
        value={draft.name}
        onChange={(name) => setDraft({ name })}
      />
      {names.map((name) => {
        const figure = draft.figures[name] ?? { text: '', unit: '1', source: '' };
        return (
          <FieldRow key={name}>
            <QuantityField
              id={form.idOf(name)}
              kind={toFigureKind(type.kind, name)}
              label={label(name)}
              error={form.errorOf(name)}
              draft={figure}
              onChange={(next) => setFigure(name, next)}
            />
            <TextField
              id={form.idOf(`${name}Source`)}
              label={t('componentTypes.sourceOf', { name: label(name) })}
              error={form.errorOf(`${name}Source`)}
              value={figure.source}
              onChange={(source) => setFigure(name, { source })}
            />
          </FieldRow>
        );
      })}
      <TextArea
        id={form.idOf('reason')}
        label={t('settings.reason')}
        hint={t('componentTypes.reasonHint')}
        error={form.errorOf('reason')}
        value={draft.reason}
        onChange={(reason) => setDraft({ reason })}
      />
      <FormActions>
        <Button look="strong" type="submit" disabled={change.isPending}>
          {t('componentTypes.saveRevision', { revision: type.revision + 1 })}
        </Button>
        <Button look="plain" onClick={() => clearDraft(toInitial(type, unit))}>
          {t('form.discard')}
        </Button>
      </FormActions>
    </Form>
  );
}
