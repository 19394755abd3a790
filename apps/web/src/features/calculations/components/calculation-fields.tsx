'use client';

import type { FieldDescription } from '@repo/calc';
import { isQuantityKind, toUnitSymbol } from '@repo/quantity';
import { useState, type ReactNode } from 'react';
import { Symbol } from '@/lib/formula/formula';
import { useTranslate, type Translate } from '@/lib/i18n/i18n';
import { QuantityField } from '@/lib/quantity/quantity-field';
import { Button } from '@/ui/button';
import { CheckGroup, Field, FieldRow, fieldStyles, SelectField, TextField } from '@/ui/field';
import { toFieldTitle, upperFirst } from '../field-titles';
import type { InputGroup } from '../group-inputs';
import { toBlankDrafts, type Drafts, type FieldDraft, type Fields } from '../forms';
import styles from './calculations.module.css';

interface Shared {
  path: string;
  errorOf: (path: string) => string | null;
  /** what a field means has been said above, in the first entry of the list */
  isBrief?: boolean;
}

/** From so many entries on a list is turned over like pages: thousands of fields at once would stop the browser. */
const PAGE = 10;

/** Of the field at a path, such as `parts[0].rating`. */
export const toFieldId = (path: string): string => `in-${path.replace(/[^\w]/g, '-')}`;

function toDefaultText(value: unknown): string {
  if (typeof value === 'object' && value !== null && 'value' in value && 'unit' in value) {
    return `${String(value.value)} ${toUnitSymbol(String(value.unit))}`;
  }
  return typeof value === 'object' ? JSON.stringify(value) : String(value);
}

function useLabels(name: string, field: FieldDescription, isBrief = false) {
  const t = useTranslate();
  const label = upperFirst(toFieldTitle(t, name));
  const optional =
    field.required === false
      ? field.default === undefined
        ? t('calculations.optional')
        : t('calculations.default', { value: toDefaultText(field.default) })
      : null;
  const text = [field.meaning, optional].filter((part) => part !== undefined && part !== null).join(' · ');
  const symbol = field.symbol === undefined ? null : <Symbol text={field.symbol} />;
  const hint = (
    <>
      {symbol} {text}
    </>
  );
  return { label, hint: isBrief || (text === '' && symbol === null) ? undefined : hint };
}

/** What every kind of field is drawn with. */
interface Drawn {
  field: FieldDescription;
  shared: { id: string; label: string; error: string | null; hint?: ReactNode };
  draft: FieldDraft;
  onChange: (draft: FieldDraft) => void;
}

/** Several numbers of one unit. */
function NumbersField({ field, shared, draft, onChange }: Drawn) {
  const t = useTranslate();
  return (
    <Field {...shared}>
      {(aria) => (
        <span className={fieldStyles['pair']}>
          <input
            {...aria}
            className={`${fieldStyles['input']} ${fieldStyles['number']}`}
            placeholder={t('calculations.listHint')}
            value={draft.text}
            onChange={(event) => onChange({ ...draft, text: event.target.value })}
          />
          <select
            className={`${fieldStyles['input']} ${fieldStyles['unit']}`}
            aria-label={t('quantity.unitOf', { label: shared.label })}
            value={draft.unit}
            onChange={(event) => onChange({ ...draft, unit: event.target.value })}
          >
            {(field.units ?? []).map((unit) => (
              <option key={unit} value={unit}>
                {toUnitSymbol(unit)}
              </option>
            ))}
          </select>
        </span>
      )}
    </Field>
  );
}

/** One of some words, or several of them. */
function WordsField({ field, shared, draft, onChange }: Drawn) {
  const t = useTranslate();
  if (field.type === 'word-list') {
    const words = field.words ?? [];
    return (
      <div className={styles['wide']}>
        <CheckGroup
          {...shared}
          choices={words.map((word) => ({ value: word, label: word.replaceAll('-', ' ') }))}
          values={words.filter((word) => draft.text.split('; ').includes(word))}
          onChange={(values) => onChange({ ...draft, text: values.join('; ') })}
        />
      </div>
    );
  }
  const words = field.words ?? ['true', 'false'];
  return (
    <SelectField
      {...shared}
      value={draft.text}
      choices={[
        { value: '', label: t('calculations.pick') },
        ...words.map((word) => ({
          value: word,
          label: field.type === 'boolean' ? t(word === 'true' ? 'value.yes' : 'value.no') : word.replaceAll('-', ' '),
        })),
      ]}
      onChange={(text) => onChange({ ...draft, text })}
    />
  );
}

function OneField({
  name,
  field,
  draft,
  onChange,
  path,
  errorOf,
  isBrief,
}: Shared & { name: string; field: FieldDescription; draft: FieldDraft; onChange: (draft: FieldDraft) => void }) {
  const { label, hint } = useLabels(name, field, isBrief);
  const at = `${path}${name}`;
  const id = toFieldId(at);
  const error = errorOf(at);
  const shared = { id, label, error, ...(hint === undefined ? {} : { hint }) };

  if (field.type === 'list') {
    return <ListField name={name} field={field} draft={draft} onChange={onChange} path={path} errorOf={errorOf} />;
  }
  if (field.type === 'object') {
    return (
      <fieldset className={`${styles['wide']} ${styles['item']}`}>
        <legend className={fieldStyles['label']}>{label}</legend>
        <CalculationFields
          fields={field.fields ?? {}}
          drafts={draft.fields}
          onChange={(fields) => onChange({ ...draft, fields })}
          path={`${at}.`}
          errorOf={errorOf}
        />
      </fieldset>
    );
  }
  if (field.type === 'quantity' && field.kind !== undefined && isQuantityKind(field.kind)) {
    return (
      <QuantityField
        {...shared}
        kind={field.kind}
        draft={draft}
        onChange={({ text, unit }) => onChange({ ...draft, text, unit })}
      />
    );
  }
  if (field.type === 'quantity-list' || field.type === 'vector') {
    return <NumbersField field={field} shared={shared} draft={draft} onChange={onChange} />;
  }
  if (field.type === 'word-list' || field.words !== undefined || field.type === 'boolean') {
    return <WordsField field={field} shared={shared} draft={draft} onChange={onChange} />;
  }
  return (
    <TextField
      {...shared}
      className={field.type === 'text' ? undefined : fieldStyles['number']}
      inputMode={field.type === 'text' || field.type === 'like' ? 'text' : 'decimal'}
      autoComplete="off"
      value={draft.text}
      onChange={(text) => onChange({ ...draft, text })}
    />
  );
}

function ListField({
  name,
  field,
  draft,
  onChange,
  path,
  errorOf,
}: Shared & { name: string; field: FieldDescription; draft: FieldDraft; onChange: (draft: FieldDraft) => void }) {
  const t = useTranslate();
  const { label, hint } = useLabels(name, field);
  const fields = field.fields ?? {};
  const setItem = (index: number, item: Drafts): void =>
    onChange({ ...draft, items: draft.items.map((old, at) => (at === index ? item : old)) });
  const error = errorOf(`${path}${name}`);
  const [asked, setPage] = useState(0);
  const count = draft.items.length;
  const isPaged = count > PAGE + 2;
  const last = isPaged ? Math.ceil(count / PAGE) - 1 : 0;
  const page = Math.min(asked, last);
  const from = page * PAGE;
  const shown = isPaged ? draft.items.slice(from, from + PAGE) : draft.items;
  return (
    <fieldset className={styles['wide']}>
      <legend className={fieldStyles['label']}>{label}</legend>
      {hint === undefined ? null : <p className={fieldStyles['hint']}>{hint}</p>}
      {error === null ? null : <p className={fieldStyles['error']}>{error}</p>}
      {shown.map((item, place) => {
        const index = from + place;
        return (
          <div className={styles['item']} key={index} role="group" aria-label={`${label} ${index + 1}`}>
            <div className={styles['entry']}>
              <span className={styles['count']}>{index + 1}</span>
              <Button
                look="plain"
                onClick={() => onChange({ ...draft, items: draft.items.filter((_item, at) => at !== index) })}
              >
                {t('calculations.removeItem', { label, number: index + 1 })}
              </Button>
            </div>
            <CalculationFields
              fields={fields}
              drafts={item}
              onChange={(next) => setItem(index, next)}
              path={`${path}${name}[${index}].`}
              errorOf={errorOf}
              isBrief={place > 0}
            />
          </div>
        );
      })}
      <div className={styles['actions']}>
        <Button
          onClick={() => {
            onChange({ ...draft, items: [...draft.items, toBlankDrafts(fields)] });
            setPage(Math.floor(count / PAGE));
          }}
        >
          {t('calculations.addItem', { label })}
        </Button>
        {isPaged ? (
          <>
            <Button disabled={page === 0} onClick={() => setPage(page - 1)}>
              {t('calculations.itemsBefore')}
            </Button>
            <span role="status">
              {t('calculations.itemsShown', { from: from + 1, to: from + shown.length, count, label })}
            </span>
            <Button disabled={page === last} onClick={() => setPage(page + 1)}>
              {t('calculations.itemsAfter')}
            </Button>
          </>
        ) : null}
      </div>
    </fieldset>
  );
}

/** The inputs of a calculation as fields, made from its description; the unit stands beside each. */
export function CalculationFields({
  fields,
  drafts,
  onChange,
  path,
  errorOf,
  isBrief = false,
}: Shared & { fields: Fields; drafts: Drafts; onChange: (drafts: Drafts) => void }) {
  return (
    <FieldRow>
      {Object.entries(fields).map(([name, field]) => {
        const draft = drafts[name];
        if (draft === undefined) return null;
        return (
          <OneField
            key={name}
            name={name}
            field={field}
            draft={draft}
            onChange={(next) => onChange({ ...drafts, [name]: next })}
            path={path}
            errorOf={errorOf}
            isBrief={isBrief}
          />
        );
      })}
    </FieldRow>
  );
}

/** What goes together of alternatives: "wire gauge, or cross-section". */
function toSetsText(t: Translate, sets: readonly (readonly string[])[]): string {
  const join = (key: 'calculations.group.or' | 'calculations.group.with', parts: readonly string[]): string =>
    parts.reduce((one, other) => t(key, { one, other }));
  return join(
    'calculations.group.or',
    sets.map((names) =>
      join(
        'calculations.group.with',
        names.map((name) => toFieldTitle(t, name)),
      ),
    ),
  );
}

/** These fields alone; that one may be left out is said by the group, and not again at each. */
export const pickSaid = (fields: Fields, names: readonly string[]): Fields =>
  Object.fromEntries(
    names.flatMap((name) => {
      const field = fields[name];
      return field === undefined ? [] : [[name, field.default === undefined ? { ...field, required: true } : field]];
    }),
  );

/** The fields of a calculation by what is asked of a person. */
export function GroupedFields({
  groups,
  fields,
  ...rest
}: Parameters<typeof CalculationFields>[0] & { groups: readonly InputGroup[] }) {
  const t = useTranslate();
  if (groups.length === 1) return <CalculationFields fields={fields} {...rest} />;
  return groups.map(({ code, names, sets }) => (
    <fieldset className={styles['inputs']} key={names.join(' ')}>
      <legend>{t(`calculations.group.${code}`, { sets: sets.length === 0 ? '' : toSetsText(t, sets) })}</legend>
      <CalculationFields {...rest} fields={pickSaid(fields, names)} />
    </fieldset>
  ));
}
