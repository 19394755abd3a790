'use client';

import { Suspense, useState, type ComponentProps, type ReactNode } from 'react';
import { useTranslate } from '@/lib/i18n/i18n';
import { Button } from '@/ui/button';
import { Dialog } from '@/ui/dialog';
import { useFirstSign } from '@/ui/use-first-sign';
import { fetchCombo } from './combo';

/** A button that opens a form over the page. Closing keeps what was typed. */
export function FormDialog({
  action,
  title,
  look = 'quiet',
  children,
}: {
  action: string;
  title: string;
  look?: ComponentProps<typeof Button>['look'];
  children: (close: () => void) => ReactNode;
}) {
  const t = useTranslate();
  const [isOpen, setOpen] = useState(false);
  useFirstSign(fetchCombo);
  const close = (): void => setOpen(false);
  return (
    <>
      <Button {...(look === undefined ? {} : { look })} onClick={() => setOpen(true)}>
        {action}
      </Button>
      <Suspense>
        <Dialog isWide isOpen={isOpen} onClose={close} closeText={t('action.close')} title={title}>
          {children(close)}
        </Dialog>
      </Suspense>
    </>
  );
}
