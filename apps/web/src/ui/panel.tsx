'use client';

import { useDeferredValue, useEffect, useState, type ReactNode } from 'react';
import { flushSync } from 'react-dom';
import { FoldProvider, useFold, type Fold } from './fold';
import { Link } from './link';
import { useIsReady } from './use-is-ready';
import styles from './panel.module.css';

interface PanelParts {
  title?: ReactNode;
  note?: ReactNode;
  children: ReactNode;
  id?: string;
  label?: string;
}

/** A ruled area with one heading. Panels are never put into panels. */
export function Panel(parts: PanelParts) {
  const fold = useFold();
  if (fold !== null && parts.title !== undefined) return <FoldedPanel {...parts} fold={fold} />;
  const { title, note, children, id, label } = parts;
  return (
    <section className={styles['panel']} id={id} aria-label={label}>
      {title === undefined ? null : (
        <div className={styles['head']}>
          <h2>{title}</h2>
          {note === undefined ? null : <div className={styles['note']}>{note}</div>}
        </div>
      )}
      {children}
    </section>
  );
}

/**
 * Whether what a panel holds is drawn: once it was open, and all of it for paper. What is open only where there is room waits until the
 * page knows how much there is, so that a phone draws nothing that it does not show; then in pieces, between which the page answers.
 */
function useDrawn(isOpen: boolean, isByWidth: boolean): boolean {
  const isReady = useDeferredValue(useIsReady());
  const isShown = isOpen && (isReady || !isByWidth);
  const [wasShown, setShown] = useState(isShown);
  if (isShown && !wasShown) setShown(true);
  useEffect(() => {
    const paper = window.matchMedia('print');
    const draw = (): void => {
      if (paper.matches) flushSync(() => setShown(true));
    };
    paper.addEventListener('change', draw);
    return () => paper.removeEventListener('change', draw);
  }, []);
  return wasShown;
}

/** A panel that its heading opens and closes. On paper it is open. */
function FoldedPanel({ title, note, children, fold }: PanelParts & { fold: Fold }) {
  const { id, isOpen, isByWidth, setOpen, announce } = fold;
  useEffect(() => announce(id), [announce, id]);
  const isDrawn = useDrawn(isOpen, isByWidth);
  return (
    <section
      className={`${styles['panel']} ${styles['folded']}`}
      id={id}
      data-closed={isOpen ? (isByWidth ? 'narrow' : undefined) : ''}
    >
      <div className={styles['head']}>
        <h2>
          <button type="button" aria-expanded={isOpen} aria-controls={`${id}-body`} onClick={() => setOpen(!isOpen)}>
            {title}
          </button>
        </h2>
        {note === undefined ? null : <div className={styles['note']}>{note}</div>}
      </div>
      <div className={styles['body']} id={`${id}-body`}>
        <FoldProvider value={null}>{isDrawn ? children : null}</FoldProvider>
      </div>
    </section>
  );
}

export interface Crumb {
  name: string;
  href?: string;
}

/** The answer of the page as its title, what it is about above, what can be done at the right. */
export function PageHead({
  crumbs,
  crumbsLabel,
  title,
  under,
  actions,
}: {
  crumbs?: readonly Crumb[];
  crumbsLabel?: string;
  title: ReactNode;
  under?: ReactNode;
  actions?: ReactNode;
}) {
  return (
    <header className={styles['page']}>
      <div>
        {crumbs === undefined || crumbs.length === 0 ? null : (
          <nav aria-label={crumbsLabel}>
            <ol className={styles['crumbs']}>
              {crumbs.map((crumb) => (
                <li key={crumb.name}>
                  {crumb.href === undefined ? crumb.name : <Link href={crumb.href}>{crumb.name}</Link>}
                </li>
              ))}
            </ol>
          </nav>
        )}
        <h1>{title}</h1>
        {under === undefined ? null : <p className={styles['under']}>{under}</p>}
      </div>
      {actions === undefined ? null : <div className={styles['actions']}>{actions}</div>}
    </header>
  );
}

/** Name and value in two columns. */
export function Facts({ rows }: { rows: readonly { name: ReactNode; value: ReactNode; key?: string }[] }) {
  return (
    <dl className={styles['facts']}>
      {rows.map((row, index) => (
        <FactRow key={row.key ?? index} name={row.name} value={row.value} />
      ))}
    </dl>
  );
}

function FactRow({ name, value }: { name: ReactNode; value: ReactNode }) {
  return (
    <>
      <dt>{name}</dt>
      <dd>{value}</dd>
    </>
  );
}
