'use client';

import { useContext, useId, useMemo, useState, type ReactNode } from 'react';
import {
  ComboBox,
  ComboBoxStateContext,
  Input,
  Label,
  ListBox,
  ListBoxItem,
  OverlayTriggerStateContext,
  Popover,
  Text,
} from 'react-aria-components';
import styles from './combo-field.module.css';
import { fieldStyles, type Choice } from './field';

export interface ComboFieldProps {
  id?: string;
  label: string;
  hint?: string | undefined;
  error: string | null;
  needed?: string | undefined;
  choices: readonly Choice[];
  value: string;
  onChange: (value: string) => void;
  onSearch?: (text: string) => void;
  emptyText: string;
}

/**
 * The list closes when the page behind it scrolls, which a page does by itself while it loads: that is no leaving of the field, and what
 * is typed in it stays.
 */
function KeepsTyped({ children }: { children: ReactNode }) {
  const state = useContext(ComboBoxStateContext);
  const keeping = useMemo(() => (state === null ? null : { ...state, close: () => state.setOpen(false) }), [state]);
  return <OverlayTriggerStateContext.Provider value={keeping}>{children}</OverlayTriggerStateContext.Provider>;
}

/** One of many, found by typing a part of its name. `onSearch` hears what is typed, to bring more choices. */
export function ComboField({
  id,
  label,
  hint,
  error,
  needed,
  choices,
  value,
  onChange,
  onSearch,
  emptyText,
}: ComboFieldProps) {
  const made = useId();
  const fieldId = id ?? made;
  // Over a dialog nothing of the page is reached: there the list opens inside it.
  const [dialog, setDialog] = useState<Element | null>(null);
  return (
    <ComboBox
      ref={(box) => setDialog(box?.closest('dialog') ?? null)}
      className={fieldStyles['field'] ?? ''}
      defaultItems={choices.map((choice) => ({ id: choice.value, ...choice }))}
      selectedKey={value === '' ? null : value}
      onSelectionChange={(key) => onChange(key === null ? '' : String(key))}
      {...(onSearch === undefined
        ? {}
        : {
            onInputChange: (text: string) => {
              // What was chosen stands there as its label: it is nothing to look for, and must not go for want of it.
              if (!choices.some((choice) => choice.label === text)) onSearch(text);
            },
          })}
      isInvalid={error !== null}
      isRequired={needed !== undefined}
      validationBehavior="aria"
      menuTrigger="focus"
      allowsEmptyCollection
    >
      <Label className={fieldStyles['label'] ?? ''} data-needed={needed}>
        {label}
      </Label>
      {hint === undefined ? null : (
        <Text slot="description" className={fieldStyles['hint'] ?? ''}>
          {hint}
        </Text>
      )}
      <Input id={fieldId} className={fieldStyles['input'] ?? ''} autoComplete="off" />
      {error === null ? null : (
        <Text slot="errorMessage" className={fieldStyles['error'] ?? ''}>
          {error}
        </Text>
      )}
      <KeepsTyped>
        <Popover className={styles['popover'] ?? ''} {...(dialog === null ? {} : { UNSTABLE_portalContainer: dialog })}>
          <ListBox
            className={styles['list'] ?? ''}
            renderEmptyState={() => <span className={styles['empty']}>{emptyText}</span>}
          >
            {(item: { id: string; label: string }) => (
              <ListBoxItem className={styles['item'] ?? ''} textValue={item.label}>
                {item.label}
              </ListBoxItem>
            )}
          </ListBox>
        </Popover>
      </KeepsTyped>
    </ComboBox>
  );
}
