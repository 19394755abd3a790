'use client';

import type { ComponentFigureName } from '@repo/calc/figures';
import type { ComponentKind } from '@repo/contracts';
import { getKindInfo, type QuantityKind } from '@repo/quantity';
import type { ControlProps, FieldDef, FieldProblem } from '@/lib/forms/field-def';
import { useTranslate, type Translate } from '@/lib/i18n/i18n';
import type { EnteredQuantity } from '@/lib/quantity/format';
import {
  inUnitOfPage,
  readQuantity,
  toDraftText,
  toQuantityDraft,
  type QuantityDraft,
} from '@/lib/quantity/quantity-draft';
import { QuantityField } from '@/lib/quantity/quantity-field';
import { FieldRow, fieldStyles, TextField } from '@/ui/field';
import { listFigures, nameFigure, toFigureKind } from './figures';
import styles from './components/components.module.css';

type FigureDraft = QuantityDraft & { source: string };
type Drafts = Record<string, FigureDraft>;
export type Figures = Record<string, { value: number; unit: string; digits?: number | undefined; source: string }>;

/** Under this name: the source of every typed figure that names none. */
const ALL = 'all';
const BLANK: FigureDraft = { text: '', unit: '1', source: '' };

function FiguresControl({ kind, control }: { kind: ComponentKind; control: ControlProps<Drafts> }) {
  const t = useTranslate();
  const { id, draft, error, errorOf, onChange } = control;
  const set = (name: string, change: Partial<FigureDraft>): void =>
    onChange({ ...draft, [name]: { ...(draft[name] ?? BLANK), ...change } });
  return (
    <fieldset id={id} tabIndex={-1} className={styles['figures']}>
      <legend className={fieldStyles['label']}>{control.label}</legend>
      <p className={fieldStyles['hint']}>{control.hint}</p>
      {error === null ? null : <p className={fieldStyles['error']}>{error}</p>}
      <TextField
        id={`${id}.${ALL}Source`}
        label={t('componentTypes.sourceOfAll')}
        hint={t('componentTypes.sourceOfAllHint')}
        maxLength={400}
        value={draft[ALL]?.source ?? ''}
        onChange={(source) => set(ALL, { source })}
      />
      {listFigures(kind).map((name) => {
        const figure = draft[name] ?? BLANK;
        return (
          <FieldRow key={name}>
            <QuantityField
              id={`${id}.${name}`}
              kind={toFigureKind(kind, name)}
              label={nameFigure(name, t)}
              hint={t(`componentFigureHint.${name}`)}
              error={errorOf(name)}
              draft={figure}
              onChange={(next) => set(name, next)}
            />
            <TextField
              id={`${id}.${name}Source`}
              label={t('componentTypes.sourceOf', { name: nameFigure(name, t) })}
              error={errorOf(`${name}Source`)}
              maxLength={400}
              value={figure.source}
              onChange={(source) => set(name, { source })}
            />
          </FieldRow>
        );
      })}
    </fieldset>
  );
}

/** In which a figure that nobody has said is asked for. */
const toUnit = (kind: QuantityKind, pressureUnit: string): string =>
  kind === 'pressure' ? pressureUnit : (getKindInfo(kind).displayUnits[0]?.unit ?? '1');

function toDraft(kind: ComponentKind, name: ComponentFigureName, figures: Figures, pressureUnit: string): FigureDraft {
  const { source, ...quantity } = figures[name] ?? { source: '' };
  const figureKind = toFigureKind(kind, name);
  const draft = toQuantityDraft('value' in quantity ? quantity : null, figureKind, toUnit(figureKind, pressureUnit));
  return { ...draft, source };
}

/** A ratio is kept as a plain number; 97 % is typed as well. */
function toPlain({ value, unit, digits }: EnteredQuantity) {
  if (unit !== '%') return { value, unit, digits };
  return { value: Number((value / 100).toPrecision(15)), unit: '1', digits: Math.min(15, (digits ?? 0) + 2) };
}

/** All figures that a kind of component may have; one that is typed needs its source. What is left empty stays unknown. */
export function figuresField(kind: ComponentKind, pressureUnit: string, t: Translate): FieldDef<Drafts, Figures> {
  return {
    label: 'componentTypes.figures',
    hint: 'componentTypes.figuresHint',
    isWide: true,
    toDraft: (figures) =>
      Object.fromEntries(listFigures(kind).map((name) => [name, toDraft(kind, name, figures, pressureUnit)])),
    inUnitOfPage: (drafts) =>
      Object.fromEntries(
        Object.entries(drafts).map(([name, draft]) => [name, inUnitOfPage(draft, 'pressure', pressureUnit)]),
      ),
    read: (drafts) => {
      const problems: FieldProblem[] = [];
      const figures: Figures = {};
      for (const name of listFigures(kind)) {
        const typed = drafts[name] ?? BLANK;
        const source = typed.source.trim() || (drafts[ALL]?.source ?? '').trim();
        const figureKind = toFigureKind(kind, name);
        const reading = readQuantity(typed, figureKind);
        if (!reading.ok) problems.push({ part: name, code: reading.code, label: nameFigure(name, t) });
        else if (reading.quantity !== null) {
          if (source === '') {
            const label = t('componentTypes.sourceOf', { name: nameFigure(name, t) });
            problems.push({ part: `${name}Source`, code: 'missing', label });
          }
          if (figureKind !== 'temperature' && reading.quantity.value < 0) {
            problems.push({ part: name, code: 'negative', label: nameFigure(name, t) });
          }
          figures[name] = { ...toPlain(reading.quantity), source };
        }
      }
      return problems.length === 0 ? { ok: true, value: figures } : { ok: false, problems };
    },
    toText: (drafts) =>
      listFigures(kind)
        .flatMap((name) => {
          const shown = toDraftText(drafts[name] ?? BLANK, toFigureKind(kind, name));
          return shown === null ? [] : [`${nameFigure(name, t)} ${shown}`];
        })
        .join('; ') || '–',
    render: (control) => <FiguresControl kind={kind} control={control} />,
  };
}
