'use client';

import { Suspense } from 'react';
import { useTranslate } from '@/lib/i18n/i18n';
import { createId } from '@/lib/ids';
import type { MessageKey } from '@/messages';
import { Button } from '@/ui/button';
import { FieldRow, fieldStyles } from '@/ui/field';
import type { ControlProps, DraftsOf, FieldDef, FieldDefs, FieldProblem, Reading, ValuesOf } from './field-def';
import styles from './list-field.module.css';
import { allInUnitOfPage } from './read-fields';

export interface ItemDraft<S extends FieldDefs> {
  key: string;
  drafts: DraftsOf<S>;
}
export type ItemValue<S extends FieldDefs> = ValuesOf<S> & { id: string };

interface ListOptions<S extends FieldDefs> {
  label: MessageKey;
  hint?: MessageKey;
  /** takes `{number}` */
  itemLabel: MessageKey;
  addText: MessageKey;
  parts: S;
  blank: ValuesOf<S>;
  /** parts that fold away under a title of their own */
  folded?: readonly { title: MessageKey; parts: readonly (keyof S & string)[] }[];
  least?: number;
  most?: number;
  /** other parts of an entry that change with one */
  follow?: (name: string, drafts: DraftsOf<S>) => Partial<DraftsOf<S>>;
  /** what stands beside a part, after its hint */
  noteOf?: (name: string, drafts: DraftsOf<S>) => string | undefined;
}

const entriesOf = (parts: FieldDefs) => Object.entries(parts);

function toItem<S extends FieldDefs>(parts: S, values: ValuesOf<S>, key: string): ItemDraft<S> {
  const drafts = entriesOf(parts).map(([name, def]) => [name, def.toDraft(values[name])]);
  return { key, drafts: Object.fromEntries(drafts) as DraftsOf<S> };
}

const joinHints = (...parts: readonly (string | undefined)[]): string | undefined =>
  parts.filter((part) => part !== undefined).join(' · ') || undefined;

function ListControl<S extends FieldDefs>({
  options,
  control,
}: {
  options: ListOptions<S>;
  control: ControlProps<ItemDraft<S>[]>;
}) {
  const t = useTranslate();
  const { id, label, hint, error, errorOf, draft, onChange } = control;
  const changeItem = (item: ItemDraft<S>, name: string, value: unknown): ItemDraft<S> => {
    const drafts = { ...item.drafts, [name]: value };
    return { ...item, drafts: { ...drafts, ...options.follow?.(name, drafts) } };
  };
  const change = (index: number, name: string, value: unknown): void =>
    onChange(draft.map((item, at) => (at === index ? changeItem(item, name, value) : item)));
  const folded = options.folded ?? [];
  const isPlain = ([name]: [string, unknown]): boolean => !folded.some(({ parts }) => parts.includes(name));
  const drawPart = (item: ItemDraft<S>, index: number) => {
    const draw = ([name, def]: [string, FieldDefs[string]]) => (
      <div key={name}>
        <Suspense>
          {def.render({
            id: `${id}.${index}.${name}`,
            label: t(def.label),
            hint: joinHints(def.hint === undefined ? undefined : t(def.hint), options.noteOf?.(name, item.drafts)),
            error: errorOf(`${index}.${name}`),
            needed: def.isRequired === true ? t('form.needed') : undefined,
            errorOf: (part) => errorOf(`${index}.${name}.${part}`),
            draft: item.drafts[name],
            onChange: (value) => change(index, name, value),
          })}
        </Suspense>
      </div>
    );
    return draw;
  };
  return (
    <fieldset id={id} tabIndex={-1} className={styles['list']}>
      <legend className={fieldStyles['label']}>{label}</legend>
      {hint === undefined ? null : <p className={fieldStyles['hint']}>{hint}</p>}
      {error === null ? null : <p className={fieldStyles['error']}>{error}</p>}
      {draft.map((item, index) => (
        <div
          key={item.key}
          role="group"
          aria-label={t(options.itemLabel, { number: index + 1 })}
          className={styles['item']}
        >
          <FieldRow>{entriesOf(options.parts).filter(isPlain).map(drawPart(item, index))}</FieldRow>
          {folded.map(({ title, parts }) => (
            <details
              key={title}
              {...(parts.some((name) => errorOf(`${index}.${name}`) !== null) ? { open: true } : {})}
            >
              <summary>{t(title)}</summary>
              <FieldRow>
                {entriesOf(options.parts)
                  .filter(([name]) => parts.includes(name))
                  .map(drawPart(item, index))}
              </FieldRow>
            </details>
          ))}
          {draft.length <= (options.least ?? 0) ? null : (
            <Button look="plain" onClick={() => onChange(draft.filter((_other, at) => at !== index))}>
              {t('form.removeItem', { label: t(options.itemLabel, { number: index + 1 }) })}
            </Button>
          )}
        </div>
      ))}
      {draft.length >= (options.most ?? 200) ? null : (
        <Button onClick={() => onChange([...draft, toItem(options.parts, options.blank, createId())])}>
          {t(options.addText)}
        </Button>
      )}
    </fieldset>
  );
}

/** Several of the same: stations, access windows, elements of a fixture. Each keeps the id that it was made with. */
export function list<const S extends FieldDefs>(
  options: ListOptions<S>,
): FieldDef<ItemDraft<S>[], readonly (ValuesOf<S> & { id?: string })[]> {
  const { parts } = options;
  return {
    label: options.label,
    hint: options.hint,
    isWide: true,
    toDraft: (values) => values.map((value, index) => toItem(parts, value, value.id ?? String(index))),
    inUnitOfPage: (draft) => draft.map((item) => ({ ...item, drafts: allInUnitOfPage(parts, item.drafts) })),
    read: (draft): Reading<ItemValue<S>[]> => {
      const problems: FieldProblem[] = [];
      const values = draft.map((item, index) => {
        const value: Record<string, unknown> = { id: item.key };
        for (const [name, def] of entriesOf(parts)) {
          const reading = def.read(item.drafts[name]);
          if (reading.ok) value[name] = reading.value;
          else
            problems.push(
              ...reading.problems.map(({ code }) => ({
                part: `${index}.${name}`,
                code,
                labelKey: def.label,
                item: { labelKey: options.itemLabel, number: index + 1 },
              })),
            );
        }
        return value as ItemValue<S>;
      });
      if (draft.length < (options.least ?? 0)) problems.push({ part: '', code: 'missing' });
      return problems.length === 0 ? { ok: true, value: values } : { ok: false, problems };
    },
    toText: (draft, t) =>
      draft
        .map((item) =>
          entriesOf(parts)
            .map(([name, def]) => def.toText(item.drafts[name], t))
            .join(' '),
        )
        .join('; ') || '–',
    render: (control) => <ListControl options={options} control={control} />,
  };
}
