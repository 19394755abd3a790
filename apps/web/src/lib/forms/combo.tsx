'use client';

import type { MessageKey } from '@/messages';
import { ComboField } from '@/ui/combo-field';
import type { Choice } from '@/ui/field';
import { readBadly, readWell, type FieldDef } from './field-def';

/** One of many values, found by typing. */
export function combo(options: {
  label: MessageKey;
  hint?: MessageKey;
  isRequired?: boolean;
  choices: readonly Choice[];
  onSearch?: (text: string) => void;
  emptyText?: string;
}): FieldDef<string, string> {
  return {
    label: options.label,
    hint: options.hint,
    toDraft: (value) => value,
    read: (draft) => (options.isRequired === true && draft === '' ? readBadly('missing') : readWell(draft)),
    toText: (draft) => options.choices.find(({ value }) => value === draft)?.label ?? '–',
    render: ({ draft, errorOf: _errorOf, ...rest }) => (
      <ComboField
        {...rest}
        choices={options.choices}
        value={draft}
        {...(options.onSearch === undefined ? {} : { onSearch: options.onSearch })}
        emptyText={options.emptyText ?? ''}
      />
    ),
  };
}
