'use client';

import { useEffect, useId, useLayoutEffect, useRef, type ComponentProps, type ReactNode } from 'react';
import { ProblemSign } from './problem-sign';
import styles from './field.module.css';

interface Frame {
  label: ReactNode;
  hint?: ReactNode;
  error?: string | null | undefined;
  /** the word that marks a field which cannot be left empty */
  needed?: string | undefined;
}

/** Label, hint, control and error, tied together for those who hear them. */
export function Field({
  label,
  hint,
  error,
  needed,
  id,
  children,
}: Frame & {
  id: string;
  children: (aria: {
    id: string;
    'aria-describedby'?: string;
    'aria-invalid'?: true;
    'aria-required'?: true;
  }) => ReactNode;
}) {
  const described = [hint === undefined ? null : `${id}-hint`, error ? `${id}-error` : null].filter(Boolean).join(' ');
  return (
    <div className={styles['field']}>
      <label className={styles['label']} htmlFor={id} data-needed={needed}>
        {label}
      </label>
      {hint === undefined ? null : (
        <span className={styles['hint']} id={`${id}-hint`}>
          {hint}
        </span>
      )}
      {children({
        id,
        ...(described === '' ? {} : { 'aria-describedby': described }),
        ...(error ? { 'aria-invalid': true as const } : {}),
        ...(needed === undefined ? {} : { 'aria-required': true as const }),
      })}
      {error ? (
        <span className={styles['error']} id={`${id}-error`}>
          {error}
        </span>
      ) : null}
    </div>
  );
}

type InputProps = Frame &
  Omit<ComponentProps<'input'>, 'onChange' | 'value'> & {
    value: string;
    onChange: (value: string) => void;
  };

/** What was typed into a field that the server has drawn, before the page's scripts had come, stands in the field alone. */
function useTakeTyped({ type, onChange }: Pick<InputProps, 'type' | 'onChange'>) {
  const input = useRef<HTMLInputElement>(null);
  useLayoutEffect(() => {
    const { current } = input;
    if (type === 'search' && current !== null && current.value !== current.defaultValue) onChange(current.value);
    // Once: from then on each key is heard.
  }, []);
  return input;
}

export function TextField({ label, hint, error, needed, id, value, onChange, className, ...rest }: InputProps) {
  const made = useId();
  const input = useTakeTyped({ type: rest.type, onChange });
  return (
    <Field label={label} hint={hint} error={error} needed={needed} id={id ?? made}>
      {(aria) => (
        <input
          ref={input}
          {...rest}
          {...aria}
          className={[styles['input'], className].filter(Boolean).join(' ')}
          value={value}
          onChange={(event) => onChange(event.target.value)}
        />
      )}
    </Field>
  );
}

export function TextArea({
  label,
  hint,
  error,
  needed,
  id,
  value,
  onChange,
  ...rest
}: Frame &
  Omit<ComponentProps<'textarea'>, 'onChange' | 'value'> & { value: string; onChange: (value: string) => void }) {
  const made = useId();
  return (
    <Field label={label} hint={hint} error={error} needed={needed} id={id ?? made}>
      {(aria) => (
        <textarea
          {...rest}
          {...aria}
          className={styles['input']}
          value={value}
          onChange={(event) => onChange(event.target.value)}
        />
      )}
    </Field>
  );
}

export interface Choice {
  value: string;
  label: string;
}

export function SelectField({
  label,
  hint,
  error,
  needed,
  id,
  value,
  onChange,
  choices,
  ...rest
}: Frame &
  Omit<ComponentProps<'select'>, 'onChange' | 'value'> & {
    value: string;
    onChange: (value: string) => void;
    choices: readonly Choice[];
  }) {
  const made = useId();
  return (
    <Field label={label} hint={hint} error={error} needed={needed} id={id ?? made}>
      {(aria) => (
        <select
          {...rest}
          {...aria}
          className={styles['input']}
          value={value}
          onChange={(event) => onChange(event.target.value)}
        >
          {choices.map((choice) => (
            <option key={choice.value} value={choice.value}>
              {choice.label}
            </option>
          ))}
        </select>
      )}
    </Field>
  );
}

export function CheckField({
  label,
  isChecked,
  onChange,
  id,
}: {
  label: ReactNode;
  isChecked: boolean;
  onChange: (isChecked: boolean) => void;
  id?: string;
}) {
  return (
    <label className={styles['choice']}>
      <input id={id} type="checkbox" checked={isChecked} onChange={(event) => onChange(event.target.checked)} />
      <span>{label}</span>
    </label>
  );
}

/** Several check boxes under one name. */
export function CheckGroup({
  id,
  label,
  hint,
  error,
  needed,
  choices,
  values,
  onChange,
}: Frame & {
  id: string;
  choices: readonly Choice[];
  values: readonly string[];
  onChange: (values: readonly string[]) => void;
}) {
  return (
    <fieldset id={id} tabIndex={-1}>
      <legend className={styles['label']} data-needed={needed}>
        {label}
      </legend>
      {hint === undefined ? null : <p className={styles['hint']}>{hint}</p>}
      {error ? <p className={styles['error']}>{error}</p> : null}
      <div className={styles['checks']}>
        {choices.map((choice) => (
          <CheckField
            key={choice.value}
            label={choice.label}
            isChecked={values.includes(choice.value)}
            onChange={(isChecked) =>
              onChange(isChecked ? [...values, choice.value] : values.filter((value) => value !== choice.value))
            }
          />
        ))}
      </div>
    </fieldset>
  );
}

export function Form({
  children,
  onSubmit,
  onInput,
  label,
}: {
  children: ReactNode;
  onSubmit: () => void;
  /** somebody types into one of its fields */
  onInput?: () => void;
  label?: string;
}) {
  return (
    <form
      className={styles['form']}
      noValidate
      aria-label={label}
      onInput={onInput}
      onSubmit={(event) => {
        event.preventDefault();
        onSubmit();
      }}
    >
      {children}
    </form>
  );
}

export function FieldRow({ children }: { children: ReactNode }) {
  return <div className={styles['row']}>{children}</div>;
}

export function FormActions({ children }: { children: ReactNode }) {
  return <div className={styles['actions']}>{children}</div>;
}

/**
 * All that is wrong, at the top of the form; each line leads to its field. It takes the focus once a refusal, never while somebody
 * types.
 */
export function ErrorSummary({
  title,
  summary: { errors, round },
}: {
  title: string;
  summary: { errors: readonly { fieldId: string | null; text: string }[]; round: number };
}) {
  const box = useRef<HTMLDivElement>(null);
  useEffect(() => {
    if (round > 0) box.current?.focus();
  }, [round]);
  if (errors.length === 0) return null;
  return (
    <div className={styles['summary']} role="alert" tabIndex={-1} ref={box}>
      <h2>
        <ProblemSign />
        {title}
      </h2>
      <ul>
        {errors.map(({ fieldId, text }) => (
          <li key={`${fieldId ?? ''}${text}`}>
            {fieldId === null ? (
              text
            ) : (
              <a
                href={`#${fieldId}`}
                onClick={(event) => {
                  event.preventDefault();
                  document.getElementById(fieldId)?.focus();
                }}
              >
                {text}
              </a>
            )}
          </li>
        ))}
      </ul>
    </div>
  );
}

export { styles as fieldStyles };
