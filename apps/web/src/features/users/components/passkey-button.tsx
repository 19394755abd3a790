'use client';

import { useState } from 'react';
import { useProblemText } from '@/lib/states';
import { Button } from '@/ui/button';
import { Notice } from '@/ui/notice';
import { useCanUsePasskeys } from '../passkeys';

/** A button that asks for a passkey; not there where the browser has none to offer. */
export function PasskeyButton({ text, use, onDone }: { text: string; use: () => Promise<void>; onDone: () => void }) {
  const toText = useProblemText();
  const isOffered = useCanUsePasskeys();
  const [isBusy, setBusy] = useState(false);
  const [problem, setProblem] = useState<string | null>(null);
  if (!isOffered) return null;
  const ask = async (): Promise<void> => {
    setBusy(true);
    setProblem(null);
    try {
      await use();
      onDone();
    } catch (error) {
      setProblem(toText(error));
    } finally {
      setBusy(false);
    }
  };
  return (
    <>
      <Button disabled={isBusy} onClick={() => void ask()}>
        {text}
      </Button>
      {problem === null ? null : <Notice role="alert">{problem}</Notice>}
    </>
  );
}
