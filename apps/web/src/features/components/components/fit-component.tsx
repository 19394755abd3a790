'use client';

import { routes } from '@repo/contracts';
import { FormDialog } from '@/lib/forms';
import { useTranslate } from '@/lib/i18n/i18n';
import { useMay } from '@/lib/session/session';
import { CopyComponentsForm, FitComponentForm } from './late-forms';

/** Fits a component to a machine; for whoever may. */
export function FitComponent({ machineId, look = 'quiet' }: { machineId: string; look?: 'strong' | 'quiet' }) {
  const t = useTranslate();
  const may = useMay();
  if (!may(routes.installedComponents.create)) return null;
  return (
    <FormDialog look={look} action={t('components.fit')} title={t('components.fit')}>
      {(close) => <FitComponentForm machineId={machineId} onDone={close} />}
    </FormDialog>
  );
}

/** Fits all that a like circuit or power unit has; for whoever may. */
export function CopyComponents({ machineId }: { machineId: string }) {
  const t = useTranslate();
  const may = useMay();
  if (!may(routes.installedComponents.copyOfCircuit)) return null;
  return (
    <FormDialog action={t('copy.components')} title={t('copy.components')}>
      {(close) => <CopyComponentsForm machineId={machineId} onDone={close} />}
    </FormDialog>
  );
}
