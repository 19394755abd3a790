'use client';

import type { ComponentFigureName } from '@repo/calc/figures';
import type { ComponentKind } from '@repo/contracts';
import { getKindInfo } from '@repo/quantity';
import type { ControlProps, FieldDef, FieldProblem } from '@/lib/forms/field-def';
import { useTranslate, type Translate } from '@/lib/i18n/i18n';
import { toTypedText } from '@/lib/quantity/format';
import { QuantityField, readQuantity, type QuantityDraft } from '@/lib/quantity/quantity-field';
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

function toDraft(kind: ComponentKind, name: ComponentFigureName, figures: Figures, pressureUnit: string): FigureDraft {
  const figure = figures[name];
  const figureKind = toFigureKind(kind, name);
  if (figure === undefined) {
    const usual = figureKind === 'pressure' ? pressureUnit : (getKindInfo(figureKind).displayUnits[0]?.unit ?? '1');
    return { text: '', unit: usual, source: '' };
  }
  const text = figure.digits === undefined ? String(figure.value) : figure.value.toFixed(figure.digits);
  return { text, unit: figure.unit, source: figure.source };
}

/** A ratio is kept as a plain number; 97 % is typed as well. */
function toPlain({ value, unit, digits }: { value: number; unit: string; digits: number }) {
  if (unit !== '%') return { value, unit, digits };
  return { value: Number((value / 100).toPrecision(15)), unit: '1', digits: Math.min(15, digits + 2) };
}

/** All figures that a kind of component may have; one that is typed needs its source. What is left empty stays unknown. */
export function figuresField(kind: ComponentKind, pressureUnit: string, t: Translate): FieldDef<Drafts, Figures> {
  return {
    label: 'componentTypes.figures',
    hint: 'componentTypes.figuresHint',
    isWide: true,
    toDraft: (figures) =>
      Object.fromEntries(listFigures(kind).map((name) => [name, toDraft(kind, name, figures, pressureUnit)])),
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
          const reading = readQuantity(drafts[name] ?? BLANK, toFigureKind(kind, name));
          if (!reading.ok || reading.quantity === null) return [];
          const shown = toTypedText(reading.quantity);
          return [`${nameFigure(name, t)} ${shown.number} ${shown.unit}`];
        })
        .join('; ') || '–',
    render: (control) => <FiguresControl kind={kind} control={control} />,
  };
}
