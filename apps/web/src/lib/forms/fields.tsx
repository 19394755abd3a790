'use client';

import type { QuantityKind } from '@repo/quantity';
import type { EnteredQuantity } from '@/lib/quantity/format';
import {
  inUnitOfPage,
  readQuantity,
  toDraftText,
  toQuantityDraft,
  type QuantityDraft,
} from '@/lib/quantity/quantity-draft';
import { QuantityField } from '@/lib/quantity/quantity-field';
import { fromWallClock, toWallClock } from '@/lib/zoned-day';
import type { MessageKey } from '@/messages';
import { CheckField, CheckGroup, SelectField, TextArea, TextField, type Choice } from '@/ui/field';
import { readBadly, readWell, type FieldDef } from './field-def';

/** What is said of every field. */
export interface About {
  label: MessageKey;
  hint?: MessageKey;
  isRequired?: boolean;
}
export const about = ({
  label,
  hint,
  isRequired,
}: About): Pick<FieldDef<unknown, unknown>, 'label' | 'hint' | 'isRequired'> => ({
  label,
  hint,
  isRequired,
});
export const asTyped = (draft: string): string => (draft === '' ? '–' : draft);

/** A line of text; spaces around it are no part of it. */
export function text(
  options: About & {
    type?: 'text' | 'email' | 'tel';
    maxLength?: number;
    autoComplete?: 'username' | 'email' | 'name' | 'off';
    /** what an empty one is told as */
    missingCode?: string;
  },
): FieldDef<string, string> {
  const { autoComplete, missingCode = 'missing' } = options;
  return {
    ...about(options),
    toDraft: (value) => value,
    read: (draft) =>
      options.isRequired === true && draft.trim() === '' ? readBadly(missingCode) : readWell(draft.trim()),
    toText: asTyped,
    render: ({ draft, errorOf: _errorOf, ...rest }) => (
      <TextField
        {...rest}
        type={options.type ?? 'text'}
        maxLength={options.maxLength ?? 400}
        {...(autoComplete === undefined ? {} : { autoComplete })}
        value={draft}
      />
    ),
  };
}

/** A code that is shown elsewhere and typed off: six digits from an app, or where `isAny`, a recovery code as well. */
export function oneTimeCode(options: About & { isAny?: boolean }): FieldDef<string, string> {
  return {
    ...text(options),
    isRequired: true,
    isSecret: true,
    read: (draft) => {
      const typed = draft.replace(/\s/g, '');
      if (typed === '') return readBadly('missing');
      if (options.isAny === true) return readWell(draft.trim());
      return /^\d{6}$/.test(typed) ? readWell(typed) : readBadly('not-six-digits');
    },
    render: ({ draft, errorOf: _errorOf, ...rest }) => (
      <TextField
        {...rest}
        {...(options.isAny === true ? { autoCapitalize: 'off', spellCheck: false } : { inputMode: 'numeric' })}
        autoComplete="one-time-code"
        value={draft}
      />
    ),
  };
}

export function area(options: About): FieldDef<string, string> {
  return {
    ...text(options),
    isWide: true,
    render: ({ draft, errorOf: _errorOf, ...rest }) => <TextArea {...rest} maxLength={4000} value={draft} />,
  };
}

/** A calendar day, or none. */
export function day(options: About): FieldDef<string, string | null> {
  return {
    ...about(options),
    toDraft: (value) => value ?? '',
    read: (draft) => {
      if (draft !== '') return readWell(draft);
      return options.isRequired === true ? readBadly('missing') : readWell(null);
    },
    toText: asTyped,
    render: ({ draft, errorOf: _errorOf, ...rest }) => <TextField {...rest} type="date" value={draft} />,
  };
}

/** An instant, typed as a clock on the wall of `timeZone` shows it; left empty it is null, which the form calls "now". */
export function moment(options: About & { timeZone: string }): FieldDef<string, string | null> {
  const { timeZone } = options;
  return {
    ...about(options),
    toDraft: (value) => (value === null ? '' : toWallClock(Date.parse(value), timeZone)),
    read: (draft) => readWell(draft === '' ? null : fromWallClock(`${draft.slice(0, 16)}:00`, timeZone)),
    toText: asTyped,
    render: ({ draft, errorOf: _errorOf, ...rest }) => <TextField {...rest} type="datetime-local" value={draft} />,
  };
}

const labelOf = (choices: readonly Choice[], value: string): string =>
  choices.find((choice) => choice.value === value)?.label ?? '–';

/** One of a few values. An empty draft is none, refused when the field is required. */
export function choice<const V extends string>(
  options: About & { choices: readonly { value: V; label: string }[]; noneText?: string },
): FieldDef<string, V> {
  const choices: readonly Choice[] =
    options.noneText === undefined
      ? options.choices
      : [{ value: '', label: options.noneText }, ...options.choices.filter(({ value }) => (value as string) !== '')];
  const takesNone = options.choices.some(({ value }) => (value as string) === '');
  return {
    ...about(options),
    // Where one of the values stands there from the start nobody can leave it empty.
    isRequired: options.noneText !== undefined && !takesNone,
    toDraft: (value) => value,
    read: (draft) => {
      const choice = options.choices.find(({ value }) => value === draft);
      return choice === undefined ? readBadly('missing') : readWell(choice.value);
    },
    toText: (draft) => labelOf(choices, draft),
    render: ({ draft, errorOf: _errorOf, ...rest }) => <SelectField {...rest} choices={choices} value={draft} />,
  };
}

/** One of a few values, or none of them: not known, not said. */
export function choiceOrNone<const V extends string>(
  options: About & { choices: readonly { value: V; label: string }[]; noneText: string },
): FieldDef<string, V | null> {
  const inner = choice<V>(options);
  return {
    ...inner,
    isRequired: false,
    toDraft: (value) => value ?? '',
    read: (draft) => (draft === '' ? readWell(null) : inner.read(draft)),
  };
}

export function check(options: About): FieldDef<boolean, boolean> {
  return {
    ...about(options),
    toDraft: (value) => value,
    read: readWell,
    toText: (draft, t) => (draft ? t('value.yes') : t('value.no')),
    render: ({ id, label, draft, onChange }) => (
      <CheckField id={id} label={label} isChecked={draft} onChange={onChange} />
    ),
  };
}

/** Yes, no, or not known: what is not known is never a no. */
export function tristate(
  options: About & { words: readonly [string, string, string] },
): FieldDef<string, boolean | null> {
  const [yes, no, unknown] = options.words;
  const inner = choice({
    ...options,
    choices: [
      { value: 'unknown', label: unknown },
      { value: 'yes', label: yes },
      { value: 'no', label: no },
    ],
  });
  return {
    ...inner,
    toDraft: (value) => (value === null ? 'unknown' : value ? 'yes' : 'no'),
    read: (draft) => readWell(draft === 'yes' ? true : draft === 'no' ? false : null),
  };
}

/** A quantity with its unit, or none. */
export function quantity(
  options: About & { kind: QuantityKind; unit: string },
): FieldDef<QuantityDraft, EnteredQuantity | null> {
  return {
    ...about(options),
    kind: options.kind,
    toDraft: (value) => toQuantityDraft(value, options.kind, options.unit),
    inUnitOfPage: (draft) => inUnitOfPage(draft, options.kind, options.unit),
    read: (draft) => {
      const reading = readQuantity(draft, options.kind);
      if (!reading.ok) return readBadly(reading.code);
      return options.isRequired === true && reading.quantity === null
        ? readBadly('missing')
        : readWell(reading.quantity);
    },
    toText: (draft) => toDraftText(draft, options.kind) ?? asTyped(draft.text),
    render: ({ errorOf: _errorOf, hint, ...rest }) => (
      <QuantityField {...rest} {...(hint === undefined ? {} : { hint })} kind={options.kind} />
    ),
  };
}

/** Any of a few values; one at least, where it is required. */
export function checks<const V extends string>(
  options: About & { choices: readonly { value: V; label: string }[] },
): FieldDef<readonly string[], V[]> {
  const { choices } = options;
  return {
    ...about(options),
    isWide: true,
    toDraft: (values) => values,
    read: (draft) => {
      const chosen = choices.map(({ value }) => value).filter((value) => draft.includes(value));
      return options.isRequired === true && chosen.length === 0 ? readBadly('none-chosen') : readWell(chosen);
    },
    toText: (draft) => draft.map((value) => labelOf(choices, value)).join(', ') || '–',
    render: ({ id, label, hint, error, needed, draft, onChange }) => (
      <CheckGroup
        id={id}
        label={label}
        hint={hint}
        error={error}
        needed={needed}
        choices={choices}
        values={draft}
        onChange={onChange}
      />
    ),
  };
}
