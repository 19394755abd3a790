'use client';

import { useCallback, useState } from 'react';
import type { Answer } from '@/lib/api/client';
import { isAnsweredForGood, isApiError } from '@/lib/api/problem';
import { useDraft } from '@/lib/drafts/use-draft';
import { useTranslate, type Translate } from '@/lib/i18n/i18n';
import { createId } from '@/lib/ids';
import type { DraftsOf, FieldDefs, ValuesOf } from './field-def';
import { listHalfTyped } from './half-typed';
import { allInUnitOfPage, readFields, toDrafts, toLabels } from './read-fields';
import { useFormErrors, type FormError } from './use-form-errors';

const isSame = (a: unknown, b: unknown): boolean => JSON.stringify(a) === JSON.stringify(b);

/** What somebody else saved meanwhile, field by field. */
export interface Clash {
  field: string;
  label: string;
  theirs: string;
  /** null: not touched here, so theirs was taken over */
  yours: string | null;
}

/** Sending one form: again after a broken connection it is the same attempt, until the form changes or the server has answered for good. */
export interface Attempt {
  /** its Idempotency-Key */
  key: string;
  /** the instant that an empty field stands for when it means now */
  at: string;
}

interface Stored<F extends FieldDefs> {
  /** id of the record to be made */
  id: string;
  /** null: not sent yet as it is */
  attempt: Attempt | null;
  values: DraftsOf<F>;
  /** what the record was when typing began, and its entity tag */
  base: DraftsOf<F>;
  etag: string | null;
}

/** What may be kept in the browser: secrets are typed again. */
function withoutSecrets<F extends FieldDefs>(fields: F, stored: Stored<F>): Stored<F> {
  const values = Object.fromEntries(
    Object.entries(fields).map(([name, def]) => [name, def.isSecret === true ? '' : stored.values[name]]),
  );
  return { ...stored, values: values as DraftsOf<F> };
}

const isTouchedIn = <F extends FieldDefs>(
  { values, base }: Pick<Stored<F>, 'values' | 'base'>,
  field: string,
): boolean => !isSame(values[field], base[field]);

/** What is typed in all fields, and what is wrong with it; of a day that is typed by half nothing else is said. */
function readAll<F extends FieldDefs>({
  formId,
  fields,
  drafts,
  check,
  t,
}: {
  formId: string;
  fields: F;
  drafts: DraftsOf<F>;
  check: ((values: ValuesOf<F>) => readonly FormError[]) | undefined;
  t: Translate;
}): { values: ValuesOf<F>; problems: FormError[] } {
  const { values, problems } = readFields(fields, drafts, t, check);
  const halfTyped = listHalfTyped(formId, t);
  const isHalfTyped = ({ field }: FormError): boolean => halfTyped.some((half) => half.field === field);
  return { values, problems: [...problems.filter((problem) => !isHalfTyped(problem)), ...halfTyped] };
}

/** What somebody else saved meanwhile, in the fields that were not touched here; and the fields in which both say something. */
function mergeTheirs<F extends FieldDefs>(
  fields: F,
  draft: Stored<F>,
  answer: Answer<ValuesOf<F>>,
  labels: Readonly<Record<string, string>>,
  t: Translate,
): { stored: Pick<Stored<F>, 'values' | 'base' | 'etag'>; clashes: Clash[] } {
  const theirs = toDrafts(fields, answer.data);
  const seen = Object.keys(fields).filter((field) => !isSame(theirs[field], draft.base[field]));
  const merged: Record<string, unknown> = { ...draft.values };
  for (const field of seen) if (!isTouchedIn(draft, field)) merged[field] = theirs[field];
  return {
    stored: { values: merged as DraftsOf<F>, base: theirs, etag: answer.etag },
    clashes: seen.map((field) => ({
      field,
      label: labels[field] ?? field,
      theirs: fields[field]?.toText(theirs[field], t) ?? '',
      yours: isTouchedIn(draft, field) ? (fields[field]?.toText(draft.values[field], t) ?? '') : null,
    })),
  };
}

/** What is sent again after it was not answered is the same attempt; one that was answered for good is over. */
function toAttempts({ attempt: begun }: { attempt: Attempt | null }, keep: (attempt: Attempt | null) => void) {
  return {
    takeAttempt: (): Attempt => {
      const attempt = begun ?? { key: crypto.randomUUID(), at: new Date().toISOString() };
      keep(attempt);
      return attempt;
    },
    settleAttempt: (error: unknown): void => {
      if (begun !== null && isAnsweredForGood(error)) keep(null);
    },
  };
}

/** For a change that has succeeded: nothing typed is kept, and then on. */
const toClearThen =
  (clear: () => void) =>
  <A>(next: (answer: A) => void) =>
  (answer: A): void => {
    clear();
    next(answer);
  };

/**
 * A form for one record: drafts that survive, errors at fields and in a summary, and a merge when somebody else saved first.
 * Only fields that were touched are sent, so that a change by somebody else to another field stays.
 */
export function useRecordForm<F extends FieldDefs>(options: {
  /** names the draft, and begins the ids of the fields */
  name: string;
  fields: F;
  initial: ValuesOf<F>;
  etag?: string | null;
  /** reads the record as it is now, for when somebody else saved first */
  readAgain?: () => Promise<Answer<ValuesOf<F>>>;
  /** other fields that change with one */
  follow?: (field: keyof F & string) => Partial<DraftsOf<F>>;
  /** rules that span fields */
  check?: (values: ValuesOf<F>) => readonly FormError[];
}) {
  const t = useTranslate();
  const { fields, name, readAgain, check, follow } = options;
  const [first] = useState<Stored<F>>(() => {
    const drafts = toDrafts(fields, options.initial);
    return { id: createId(), attempt: null, values: drafts, base: drafts, etag: options.etag ?? null };
  });
  const kept = useCallback((stored: Stored<F>) => withoutSecrets(fields, stored), [fields]);
  const { draft: typed, setDraft, clearDraft, describe, restoredAt, isKept } = useDraft<Stored<F>>(name, first, kept);
  // A draft of weeks ago may be of a form that had fewer fields.
  const draft: Stored<F> = {
    ...typed,
    values: allInUnitOfPage(fields, { ...first.values, ...typed.values }),
    base: allInUnitOfPage(fields, { ...first.base, ...typed.base }),
  };
  const [clashes, setClashes] = useState<readonly Clash[]>([]);
  const labels = toLabels(fields, t);
  const formId = name.replace(/[^a-zA-Z0-9-]/g, '-');
  const errors = useFormErrors(formId, labels);
  const readDrafts = (drafts: DraftsOf<F>) => readAll({ formId, fields, drafts, check, t });

  const setField = <K extends keyof F & string>(field: K, value: DraftsOf<F>[K]): void => {
    const change = { ...follow?.(field), [field]: value };
    setDraft((before) => ({ values: { ...before.values, ...change }, attempt: null }));
    errors.settle(field, readDrafts({ ...draft.values, ...change }).problems);
  };
  const isTouched = (field: string): boolean => isTouchedIn(draft, field);

  /** The values, or null when something cannot be read; then the errors say what. */
  const read = (): { values: ValuesOf<F>; changed: Partial<ValuesOf<F>> } | null => {
    const { values, problems } = readDrafts(draft.values);
    const touched = Object.keys(fields).filter(isTouched);
    if (problems.length === 0 && options.readAgain !== undefined && touched.length === 0) {
      problems.push({ field: null, text: t('form.nothingChanged'), isOurs: true });
    }
    if (errors.refuse(problems)) return null;
    const changed = Object.fromEntries(touched.map((field) => [field, values[field]])) as Partial<ValuesOf<F>>;
    return { values, changed };
  };

  const merge = (answer: Answer<ValuesOf<F>>): void => {
    const merged = mergeTheirs(fields, draft, answer, labels, t);
    setClashes(merged.clashes);
    errors.clear();
    setDraft(() => ({ ...merged.stored, attempt: null }));
  };

  const { takeAttempt, settleAttempt } = toAttempts(draft, (attempt) => setDraft(() => ({ attempt })));

  const takeFailure = (error: unknown): void => {
    settleAttempt(error);
    if (readAgain !== undefined && isApiError(error) && error.code === 'request.stale') {
      readAgain().then(merge, errors.takeFailure);
    } else errors.takeFailure(error);
  };

  /** After it was sent, or thrown away: as it was at first, or as a record is now. */
  const clear = (now?: { values: ValuesOf<F>; etag: string | null }): void => {
    const base = now === undefined ? first.base : toDrafts(fields, now.values);
    clearDraft({ id: createId(), attempt: null, values: base, base, etag: now?.etag ?? first.etag });
    setClashes([]);
    errors.clear();
  };

  return {
    fields,
    labels,
    id: draft.id,
    drafts: draft.values,
    etag: draft.etag ?? undefined,
    setField,
    read,
    /** what the fields mean: the same when a unit goes from behind its number to where units stand */
    toMeaning: (): string => JSON.stringify(readFields(fields, draft.values, t).values),
    takeAttempt,
    takeFailure,
    clear,
    clearThen: toClearThen(clear),
    /** forgets what was typed here, and begins from what is saved */
    takeTheirs: () => {
      setDraft((before) => ({ values: before.base, attempt: null }));
      setClashes([]);
    },
    describe,
    restoredAt,
    isKept,
    isTyped: restoredAt !== null || Object.keys(fields).some(isTouched),
    clashes,
    errors,
  };
}

export type RecordFormState<F extends FieldDefs> = ReturnType<typeof useRecordForm<F>>;
