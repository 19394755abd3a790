'use client';

import { useCallback, useEffect, useRef, useState } from 'react';
import type { WorkReply, WorkRequest } from './protocol';

export type Work<T> =
  | { state: 'idle' }
  | { state: 'cancelled' }
  | { state: 'running'; share: number | null; last: T | null }
  | { state: 'done'; reply: T };

type Final = Exclude<WorkReply, { kind: 'progress' }>;

const IDLE: Work<Final> = { state: 'idle' };

/**
 * Keeps a worker busy with the newest request. A request that is overtaken is not waited for: the worker that is still at
 * it is ended and a new one started. `text` is what is asked, as JSON; null asks nothing.
 */
export function useWork(
  kind: WorkRequest['kind'],
  calculation: string,
  text: string | null,
): { work: Work<Final>; cancel: () => void; again: () => void } {
  const worker = useRef<Worker | null>(null);
  const isBusy = useRef(false);
  const asked = useRef(0);
  const [round, setRound] = useState(0);
  const [work, setWork] = useState<Work<Final>>(IDLE);

  const end = useCallback(() => {
    worker.current?.terminate();
    worker.current = null;
    isBusy.current = false;
  }, []);
  useEffect(() => end, [end]);

  useEffect(() => {
    if (text === null) return;
    if (isBusy.current) end();
    const id = (asked.current += 1);
    const finish = (reply: Final): void => {
      isBusy.current = false;
      setWork({ state: 'done', reply });
    };
    const current = (worker.current ??= new Worker(new URL('./calculation.worker.ts', import.meta.url), {
      type: 'module',
    }));
    current.onmessage = ({ data }: MessageEvent<WorkReply>) => {
      if (data.id !== asked.current) return;
      if (data.kind !== 'progress') finish(data);
      else setWork((before) => ({ state: 'running', share: data.share, last: lastOf(before) }));
    };
    current.onerror = (event) => {
      end();
      setWork({ state: 'done', reply: { id, kind: 'failed', message: event.message } });
    };
    isBusy.current = true;
    setWork((before) => ({ state: 'running', share: null, last: lastOf(before) }));
    current.postMessage({ id, kind, calculation, inputs: JSON.parse(text) } as WorkRequest);
  }, [kind, calculation, text, round, end]);

  const cancel = useCallback(() => {
    end();
    asked.current += 1;
    setWork({ state: 'cancelled' });
  }, [end]);
  const again = useCallback(() => setRound((count) => count + 1), []);
  return { work: text === null ? IDLE : work, cancel, again };
}

function lastOf(work: Work<Final>): Final | null {
  return work.state === 'done' ? work.reply : work.state === 'running' ? work.last : null;
}
