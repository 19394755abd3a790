import type { QuantityKind } from '@repo/quantity';
import type { ReactNode } from 'react';
import type { Translate } from '@/lib/i18n/i18n';
import type { MessageKey } from '@/messages';

export interface FieldProblem {
  /** part of a composite field, such as `0.name`; empty: the field itself */
  part: string;
  code: string;
  /** name of the part as the reader sees it */
  label?: string;
  /** of the part that it is about, where its name is a message */
  labelKey?: MessageKey;
  /** which of several alike it belongs to: a message that takes `{number}` */
  item?: { labelKey: MessageKey; number: number };
}
export type Reading<V> = { ok: true; value: V } | { ok: false; problems: readonly FieldProblem[] };

export const readWell = <V>(value: V): Reading<V> => ({ ok: true, value });
export const readBadly = (code: string, part = ''): Reading<never> => ({ ok: false, problems: [{ part, code }] });

export interface ControlProps<D> {
  id: string;
  label: string;
  hint?: string | undefined;
  error: string | null;
  /** the word that marks a field which cannot be left empty */
  needed?: string | undefined;
  /** what is wrong with a part of a composite field */
  errorOf: (part: string) => string | null;
  draft: D;
  onChange(draft: D): void;
}

/** One field of a form: what stands in it while it is typed (the draft, plain JSON), and what it means (the value). */
export interface FieldDef<D, V> {
  readonly label: MessageKey;
  readonly hint?: MessageKey | undefined;
  /** what stands beside it while it is typed, after its hint */
  note?(draft: D): string | undefined;
  /** of a quantity */
  readonly kind?: QuantityKind;
  /** cannot be left empty */
  readonly isRequired?: boolean | undefined;
  /** takes a row of its own */
  readonly isWide?: boolean;
  /** never kept anywhere but on the page */
  readonly isSecret?: boolean;
  toDraft(value: V): D;
  /** in the unit that the page has by now, where it is a pressure that nobody has typed in */
  inUnitOfPage?(draft: D): D;
  read(draft: D): Reading<V>;
  /** the draft in words, for whoever compares two versions */
  toText(draft: D, t: Translate): string;
  render(props: ControlProps<D>): ReactNode;
}

export type FieldDefs = Readonly<Record<string, FieldDef<unknown, unknown>>>;
export type ValuesOf<F extends FieldDefs> = { [K in keyof F]: F[K] extends FieldDef<infer _D, infer V> ? V : never };
export type DraftsOf<F extends FieldDefs> = { [K in keyof F]: F[K] extends FieldDef<infer D, infer _V> ? D : never };
