'use client';

import type { Standing } from '@repo/contracts';
import { measureElement, useWindowVirtualizer, type Virtualizer } from '@tanstack/react-virtual';
import { Link } from '@/ui/link';
import { memo, startTransition, useEffect, useLayoutEffect, useMemo, useRef, useState, type RefObject } from 'react';
import { useDates, useTranslate } from '@/lib/i18n/i18n';
import { MiniPressureLadder, toSharedAxis } from '@/lib/pressure-ladder/mini-pressure-ladder-view';
import { Status } from '@/lib/status/status';
import { StandingSentence } from './standing-sentence';
import styles from './fleet.module.css';

const ROW_PX = 84;
const LADDER_PX = { wide: 320, mid: 226, least: 160, most: 560 };
/** Of a cell where rows are stacked, left and right. */
const CELL_PADDING_PX = 28;
/** That much of a line may stay free beside a pressure ladder. */
const SPARE_PX = 80;
const COLUMNS = 5;
/** What the server takes for the window's height, which it does not know. */
const FIRST_ROWS = 1;
/**
 * Rows beyond the window: at first as many as a phone shows, so that the rows that came are those that stay, and nobody waits for others;
 * more once the page stands.
 */
const BEYOND = { first: 4, later: 8 };
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

/**
 * The height of a row as the browser reports it once it has placed it. Asking a row that has only just come would have the browser place
 * all of them at once, in the middle of drawing.
 */
function toHeight(
  row: HTMLTableRowElement,
  entry: ResizeObserverEntry | undefined,
  virtual: Virtualizer<Window, HTMLTableRowElement>,
): number {
  if (entry !== undefined) return measureElement(row, entry, virtual);
  const key = virtual.options.getItemKey(virtual.indexFromElement(row));
  return virtual.itemSizeCache.get(key) ?? ROW_PX;
}

/**
 * How wide a pressure ladder is where so much is free [px]. On most phones that is a little more than the server took: there it stays as
 * it came, since drawing every one anew holds up a phone for longer than all the rest of the page.
 */
function toLadderWidth(freePx: number): number {
  if (window.innerWidth > 1180) return LADDER_PX.wide;
  if (window.innerWidth > 900) return LADDER_PX.mid;
  if (freePx >= LADDER_PX.wide && freePx < LADDER_PX.wide + SPARE_PX) return LADDER_PX.wide;
  return Math.max(LADDER_PX.least, Math.min(LADDER_PX.most, freePx));
}

/** Where the rows begin on the page, and how wide a pressure ladder may be. */
function usePlace(body: RefObject<HTMLTableSectionElement | null>): { top: number; ladderPx: number } {
  const [top, setTop] = useState(0);
  const [ladderPx, setPressureLadder] = useState(LADDER_PX.wide);

  useLayoutEffect(() => {
    const measure = (): void => {
      const box = body.current?.getBoundingClientRect();
      if (box === undefined) return;
      setTop(box.top + window.scrollY);
      const widthPx = toLadderWidth(box.width - CELL_PADDING_PX);
      startTransition(() => setPressureLadder(widthPx));
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

  const virtual = useWindowVirtualizer<HTMLTableRowElement>({
    count: standings.length,
    estimateSize: () => ROW_PX,
    overscan: beyond,
    scrollMargin: top,
    measureElement: toHeight,
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
