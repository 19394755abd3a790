'use client';

import type { Standing } from '@repo/contracts';
import { useWindowVirtualizer } from '@tanstack/react-virtual';
import { Link } from '@/ui/link';
import { memo, startTransition, useEffect, useLayoutEffect, useMemo, useRef, useState, type RefObject } from 'react';
import { useDates, useTranslate } from '@/lib/i18n/i18n';
import { MiniPressureLadder, toSharedAxis } from '@/lib/pressure-ladder/mini-pressure-ladder-view';
import { Status } from '@/lib/status/status';
import { StandingSentence } from './standing-sentence';
import styles from './fleet.module.css';

const ROW_PX = 84;
const COLUMNS = 5;
const FIRST_ROWS = 4;
/** Rows beyond the window: one at first, since what nobody sees yet must not hold up what is seen; more once the page stands. */
const BEYOND = { first: 1, later: 8 };
/** Rows that are still to come when more are asked for. */
const NEAR_END = 12;

/** Alarms week by week; of a machine that stopped reporting, since when: no count is not a count of zero. */
function Alarms({ standing: { alarmsByWeek, silentSince } }: { standing: Standing }) {
  const t = useTranslate();
  const dates = useDates();
  const counts = alarmsByWeek.map((count) => (count === null ? '–' : String(count))).join(', ');
  return (
    <>
      {counts === '' ? '–' : counts}
      {silentSince === null ? null : (
        <span className={styles['silent']}>
          <Status status="unproven">{t('fleet.silent', { time: dates.atDay(silentSince) })}</Status>
        </span>
      )}
    </>
  );
}

/** Rendered once for each circuit however far one scrolls; only a change of its figures or of the axis draws it again. */
const Row = memo(function Row({
  standing,
  lowPa,
  highPa,
  ladderPx,
}: {
  standing: Standing;
  lowPa: number;
  highPa: number;
  ladderPx: number;
}) {
  const t = useTranslate();
  return (
    <>
      <th scope="row">
        <Link className={styles['name']} href={`/machines/${standing.machineId}?circuit=${standing.circuitId}`}>
          {standing.machineName}
        </Link>
        <span className={styles['small']}>
          {standing.customerName} · {standing.place}
        </span>
      </th>
      <td>
        {standing.circuitName}
        {standing.openIssues === 0 ? null : (
          <span className={styles['small']}>{t('fleet.openIssues', { count: standing.openIssues })}</span>
        )}
      </td>
      <td className={styles['ladder']}>
        <MiniPressureLadder
          marks={standing.marks}
          status={standing.status}
          lowPa={lowPa}
          highPa={highPa}
          widthPx={ladderPx}
        />
      </td>
      <td>
        <Status status={standing.status} />
        <span className={styles['because']}>
          <StandingSentence standing={standing} />
        </span>
        {standing.awaitsSince === null ? null : <span className={styles['small']}>{t('fleet.awaits')}</span>}
        <span className={styles['alarmsBelow']}>
          {t('fleet.alarmsShort')} <Alarms standing={standing} />
        </span>
      </td>
      <td className={`${styles['alarms']} ${styles['numbers']}`}>
        <span className="heard">{t('fleet.alarmsHeard')} </span>
        <Alarms standing={standing} />
      </td>
    </>
  );
});

/** By script: a style written into the page is forbidden by the page's own policy. */
function setHeight(cell: HTMLElement | null, heightPx: number): void {
  if (cell !== null) cell.style.height = `${heightPx}px`;
}

/** Where the rows begin on the page, and how wide a pressure ladder may be. */
function usePlace(body: RefObject<HTMLTableSectionElement | null>): { top: number; ladderPx: number } {
  const [top, setTop] = useState(0);
  const [ladderPx, setPressureLadder] = useState(320);

  useLayoutEffect(() => {
    const measure = (): void => {
      const box = body.current?.getBoundingClientRect();
      if (box === undefined) return;
      setTop(box.top + window.scrollY);
      setPressureLadder(
        window.innerWidth > 1180 ? 320 : window.innerWidth > 900 ? 226 : Math.max(160, Math.min(560, box.width - 28)),
      );
    };
    measure();
    window.addEventListener('resize', measure);
    return () => window.removeEventListener('resize', measure);
  }, [body]);
  return { top, ladderPx };
}

function Heading() {
  const t = useTranslate();
  return (
    <thead>
      <tr aria-rowindex={1}>
        <th scope="col" className={styles['machine']}>
          {t('fleet.machine')}
        </th>
        <th scope="col" className={styles['circuit']}>
          {t('fleet.circuit')}
        </th>
        <th scope="col" className={styles['ladder']}>
          {t('pressureLadder.title')}
        </th>
        <th scope="col">{t('fleet.standing')}</th>
        <th scope="col" className={styles['alarms']}>
          {t('fleet.alarms')}
        </th>
      </tr>
    </thead>
  );
}

/** The fleet's rows. Only those near the window are on the page; the page itself scrolls, and asks for more at its end. */
export function FleetTable({
  standings,
  total,
  hasMore,
  onMore,
}: {
  standings: readonly Standing[];
  total: number | null;
  hasMore: boolean;
  onMore: () => void;
}) {
  const t = useTranslate();
  const body = useRef<HTMLTableSectionElement>(null);
  const { top, ladderPx } = usePlace(body);
  const axis = useMemo(() => toSharedAxis(standings.map((standing) => standing.marks)), [standings]);

  const [beyond, setBeyond] = useState(BEYOND.first);
  useEffect(() => startTransition(() => setBeyond(BEYOND.later)), []);

  const virtual = useWindowVirtualizer({
    count: standings.length,
    estimateSize: () => ROW_PX,
    overscan: beyond,
    scrollMargin: top,
    // What the server draws, which knows no window.
    initialRect: { width: 0, height: FIRST_ROWS * ROW_PX },
    getItemKey: (index) => standings[index]?.circuitId ?? index,
  });
  const rows = virtual.getVirtualItems();
  const last = rows.at(-1);
  useEffect(() => {
    if (hasMore && last !== undefined && last.index >= standings.length - NEAR_END) onMore();
  }, [hasMore, last, onMore, standings.length]);

  const before = (rows[0]?.start ?? top) - top;
  const after = virtual.getTotalSize() - ((last?.end ?? top) - top);

  return (
    <table className={styles['table']} aria-rowcount={(total ?? -2) + 1}>
      <caption className="heard">{t('fleet.caption')}</caption>
      <Heading />
      <tbody ref={body}>
        {before > 0 ? (
          <tr aria-hidden="true">
            <td className={styles['pad']} colSpan={COLUMNS} ref={(cell) => setHeight(cell, before)} />
          </tr>
        ) : null}
        {rows.map((row) => {
          const standing = standings[row.index];
          if (standing === undefined) return null;
          return (
            <tr
              key={row.key}
              data-row=""
              data-index={row.index}
              aria-rowindex={row.index + 2}
              ref={virtual.measureElement}
            >
              <Row standing={standing} lowPa={axis.lowPa} highPa={axis.highPa} ladderPx={ladderPx} />
            </tr>
          );
        })}
        {after > 0 ? (
          <tr aria-hidden="true">
            <td className={styles['pad']} colSpan={COLUMNS} ref={(cell) => setHeight(cell, after)} />
          </tr>
        ) : null}
      </tbody>
    </table>
  );
}
