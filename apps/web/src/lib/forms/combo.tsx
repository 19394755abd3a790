'use client';

import { lazy, type ComponentType } from 'react';
import type { MessageKey } from '@/messages';
import type { ComboFieldProps } from '@/ui/combo-field';
import { SelectField, type Choice } from '@/ui/field';
import { readBadly, readWell, type FieldDef } from './field-def';

/** Where the network has gone before the field came. */
function PlainControl({ choices, emptyText: _emptyText, onSearch: _onSearch, ...rest }: ComboFieldProps) {
  return <SelectField {...rest} choices={[{ value: '', label: '–' }, ...choices]} />;
}

interface Control {
  default: ComponentType<ComboFieldProps>;
}
/** Comes when somebody first uses a page from which forms open, so that it is here before one does. */
export const fetchCombo = (): Promise<Control> => import('./combo-control').catch(() => ({ default: PlainControl }));

/** The dialog that it stands in waits for it. */
const ComboControl = lazy(fetchCombo);

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
    isRequired: options.isRequired,
    toDraft: (value) => value,
    read: (draft) => (options.isRequired === true && draft === '' ? readBadly('missing') : readWell(draft)),
    toText: (draft) => options.choices.find(({ value }) => value === draft)?.label ?? '–',
    render: ({ draft, errorOf: _errorOf, ...rest }) => (
      <ComboControl
        {...rest}
        choices={options.choices}
        value={draft}
        {...(options.onSearch === undefined ? {} : { onSearch: options.onSearch })}
        emptyText={options.emptyText ?? ''}
      />
    ),
  };
}
