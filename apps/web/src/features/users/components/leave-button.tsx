'use client';

import { useState } from 'react';
import type { Answer } from '@/lib/api/client';
import { useProblemText } from '@/lib/states';
import { Button } from '@/ui/button';
import { Notice } from '@/ui/notice';
import { leaveFor } from '../leave';

/** A button that leaves for an organisation's own sign-in. */
export function LeaveButton({
  text,
  begin,
  returnTo,
  look,
}: {
  text: string;
  /** asks where to go */
  begin: () => Promise<Answer<{ url: string }>>;
  returnTo: string;
  look?: 'strong' | 'quiet' | 'plain';
}) {
  const toText = useProblemText();
  const [isBusy, setBusy] = useState(false);
  const [problem, setProblem] = useState<string | null>(null);
  const leave = async (): Promise<void> => {
    setBusy(true);
    setProblem(null);
    try {
      const { data } = await begin();
      leaveFor(data.url, returnTo);
    } catch (error) {
      setProblem(toText(error));
      setBusy(false);
    }
  };
  return (
    <>
      <Button {...(look === undefined ? {} : { look })} disabled={isBusy} onClick={() => void leave()}>
        {text}
      </Button>
      {problem === null ? null : <Notice role="alert">{problem}</Notice>}
    </>
  );
}
