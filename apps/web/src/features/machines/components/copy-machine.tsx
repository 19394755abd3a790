'use client';

import { routes, type Machine } from '@repo/contracts';
import { useRouter } from 'next/navigation';
import { FormDialog } from '@/lib/forms';
import { useTranslate } from '@/lib/i18n/i18n';
import { late } from '@/lib/late';
import { useMay } from '@/lib/session/session';

/** It comes when its dialog opens. */
const CopyMachineForm = late(() => import('./copy-machine-form').then((file) => file.CopyMachineForm));

/** For whoever may: a second like machine. Goes there, where the guide leads on. */
export function CopyMachine({ machine }: { machine: Machine }) {
  const t = useTranslate();
  const router = useRouter();
  const may = useMay();
  if (!may(routes.machines.copy)) return null;
  return (
    <FormDialog action={t('copy.action')} title={t('copy.machine', { name: machine.name })}>
      {(close) => (
        <CopyMachineForm
          machine={machine}
          onDone={(copy) => {
            close();
            router.push(`/machines/${copy.id}`);
          }}
        />
      )}
    </FormDialog>
  );
}
