'use client';

import type { CalculationDescription } from '@repo/calc';
import { useState } from 'react';
import { useTranslate } from '@/lib/i18n/i18n';
import { Button } from '@/ui/button';
import { findExample } from '../find-example';
import { fromInputs, type Drafts } from '../forms';
import styles from './calculations.module.css';

/** Fills every field with figures whose answer is known, so that one sees what each field means by what stands in it. */
export function WorkedExample({
  calculation,
  onFill,
}: {
  calculation: CalculationDescription;
  onFill: (drafts: Drafts) => void;
}) {
  const t = useTranslate();
  const [note, setNote] = useState('');
  const fill = async (): Promise<void> => {
    const example = await findExample(calculation.id);
    if (example === null) return setNote(t('calculations.noExample'));
    onFill(fromInputs(calculation.inputs, example.inputs));
    setNote(t('calculations.exampleFrom', { source: example.source }));
  };
  return (
    <div className={styles['actions']}>
      <Button onClick={() => void fill()}>{t('calculations.example')}</Button>
      <span role="status">{note}</span>
    </div>
  );
}
