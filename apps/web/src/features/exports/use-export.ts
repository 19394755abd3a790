'use client';

import { routes, type ExportTable, type Job } from '@repo/contracts';
import { useCallback, useEffect, useRef, useState } from 'react';
import { callApi, callFile, toFileUrl } from '@/lib/api/client';
import { ApiError, isApiError } from '@/lib/api/problem';
import type { PressureUnit } from '@/lib/quantity/format';

export type ExportFormat = 'csv' | 'xlsx';
export interface ExportChoice {
  table: ExportTable;
  format: ExportFormat;
  pressureUnit: PressureUnit;
}

export type ExportState =
  | { state: 'idle' }
  | { state: 'preparing' }
  | { state: 'background'; job: Job | null }
  | { state: 'ready'; url: string; rows: number }
  | { state: 'saved'; fileName: string }
  | { state: 'too-large' }
  | { state: 'failed'; error: Error };

const POLL_MS = 700;

function save(file: Blob, fileName: string): void {
  const url = URL.createObjectURL(file);
  const link = document.createElement('a');
  link.href = url;
  link.download = fileName;
  link.click();
  // The browser has taken what it needs once the click has been handled.
  setTimeout(() => URL.revokeObjectURL(url), 10_000);
}

/** Takes a table away: at once where it is small, else as a job that is followed until its file is there. */
export function useExport(mayStart: boolean) {
  const [now, setNow] = useState<ExportState>({ state: 'idle' });
  const jobId = now.state === 'background' ? (now.job?.id ?? null) : null;
  // What is asked for last counts: an answer to what was asked before is dropped.
  const asked = useRef(0);

  useEffect(() => {
    if (jobId === null) return;
    let isOver = false;
    const look = async (): Promise<void> => {
      try {
        const { data } = await callApi(routes.jobs.get, { params: { id: jobId } });
        if (isOver) return;
        if (data.state === 'finished') {
          const url = toFileUrl(routes.exports.file, { id: jobId });
          setNow({ state: 'ready', url, rows: Number(data.result?.['rows'] ?? 0) });
          return;
        }
        if (data.state === 'failed' || data.state === 'cancelled') {
          setNow({
            state: 'failed',
            error: new ApiError({ code: data.problem?.code ?? 'client.cancelled', status: 0 }),
          });
          return;
        }
        setNow({ state: 'background', job: data });
        setTimeout(() => void look(), POLL_MS);
      } catch (error) {
        if (!isOver) setNow({ state: 'failed', error: error instanceof Error ? error : new Error(String(error)) });
      }
    };
    const timer = setTimeout(() => void look(), POLL_MS);
    return () => {
      isOver = true;
      clearTimeout(timer);
    };
  }, [jobId]);

  const start = useCallback(
    async (choice: ExportChoice): Promise<void> => {
      const { table, format, pressureUnit } = choice;
      const round = (asked.current += 1);
      const tell = (state: ExportState): void => {
        if (round === asked.current) setNow(state);
      };
      tell({ state: 'preparing' });
      try {
        const { file, fileName } = await callFile(routes.exports.download, {
          params: { table },
          query: { format, pressureUnit },
        });
        if (round !== asked.current) return;
        save(file, fileName);
        tell({ state: 'saved', fileName });
      } catch (error) {
        if (!(isApiError(error) && error.code === 'export.too-large')) {
          tell({ state: 'failed', error: error instanceof Error ? error : new Error(String(error)) });
          return;
        }
        if (!mayStart) {
          tell({ state: 'too-large' });
          return;
        }
        tell({ state: 'background', job: null });
        await callApi(routes.exports.start, { body: choice }).then(
          ({ data }) => tell({ state: 'background', job: data }),
          (failure: Error) => tell({ state: 'failed', error: failure }),
        );
      }
    },
    [mayStart],
  );
  const reset = useCallback(() => {
    asked.current += 1;
    setNow({ state: 'idle' });
  }, []);
  return { now, start, reset };
}
