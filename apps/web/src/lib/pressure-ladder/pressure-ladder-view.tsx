'use client';

import type { PressureLadder } from '@repo/contracts';
import { pressureLadder, type DrawnCircuit } from '@repo/drawing';
import { useEffect, useId, useMemo, useRef, useState, type KeyboardEvent, type MouseEvent } from 'react';
import { useTranslate } from '@/lib/i18n/i18n';
import { SvgDrawing } from '@/ui/svg-drawing';
import { toDrawnCircuit } from './rungs';
import { usePressureLadderWords } from './words';
import styles from './pressure-ladder-view.module.css';

export interface ShownCircuit {
  id: string;
  title: string;
  subtitle: string | null;
  ladder: PressureLadder;
}

export interface SelectedRung {
  circuitId: string;
  rungId: string;
}

/** Width of paper between the margins at 96 px to the inch (A4 less 2 × 14 mm). */
const PAPER_PX = 680;

function findRung(event: MouseEvent | KeyboardEvent): SelectedRung | null {
  const hit = event.target instanceof Element ? event.target.closest('[data-rung]') : null;
  const rungId = hit?.getAttribute('data-rung');
  const circuitId = hit?.getAttribute('data-circuit');
  return rungId && circuitId ? { circuitId, rungId } : null;
}

/** The pressure ladder of a machine's circuits, as wide as its place; a pressed rung is told to `onSelect`. */
export function PressureLadderView({
  circuits,
  selected,
  onSelect,
}: {
  circuits: readonly ShownCircuit[];
  selected: SelectedRung | null;
  onSelect: (rung: SelectedRung) => void;
}) {
  const t = useTranslate();
  const words = usePressureLadderWords();
  const id = useId();
  const frame = useRef<HTMLDivElement>(null);
  const [widthPx, setWidth] = useState(0);

  useEffect(() => {
    const element = frame.current;
    if (element === null) return;
    const observer = new ResizeObserver(([entry]) => {
      if (entry !== undefined) setWidth(Math.floor(entry.contentRect.width));
    });
    observer.observe(element);
    return () => observer.disconnect();
  }, []);

  const drawn: DrawnCircuit[] = useMemo(() => circuits.map((circuit) => toDrawnCircuit(circuit, t)), [circuits, t]);
  const shared = { circuits: drawn, words, paint: 'page' as const };
  const prefix = id.replace(/[^\w-]/g, '');

  return (
    <div className={styles['frame']} ref={frame}>
      <div
        className={styles['screen']}
        onClick={(event) => {
          const rung = findRung(event);
          if (rung !== null) onSelect(rung);
        }}
        onKeyDown={(event) => {
          if (event.key !== 'Enter' && event.key !== ' ') return;
          const rung = findRung(event);
          if (rung === null) return;
          event.preventDefault();
          onSelect(rung);
        }}
      >
        {widthPx === 0 ? null : (
          <SvgDrawing
            drawing={pressureLadder({ ...shared, widthPx, isInteractive: true, idPrefix: `${prefix}s`, selected })}
          />
        )}
      </div>
      <div className={styles['print']} aria-hidden="true">
        <SvgDrawing
          drawing={pressureLadder({
            ...shared,
            paint: 'print',
            widthPx: PAPER_PX,
            isInteractive: false,
            idPrefix: `${prefix}p`,
          })}
        />
      </div>
    </div>
  );
}
