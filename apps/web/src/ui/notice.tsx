import type { ReactNode } from 'react';
import styles from './notice.module.css';
import { ProblemSign } from './problem-sign';

/** Something to know; as an alert, what stands in the way, in the look of all refusals. */
export function Notice({ children, role }: { children: ReactNode; role?: 'status' | 'alert' }) {
  return (
    <div className={`${styles['notice']} ${role === 'alert' ? styles['problem'] : ''}`} role={role}>
      {role === 'alert' ? <ProblemSign /> : null}
      <div>{children}</div>
    </div>
  );
}

/** A heavy frame above an action that can hurt somebody. */
export function Caution({ title, lines }: { title: string; lines: readonly string[] }) {
  return (
    <div className={`${styles['notice']} ${styles['caution']}`} role="note" aria-label={title}>
      <svg viewBox="0 0 30 30" aria-hidden="true">
        <path d="M15 4L27.5 26h-25z" fill="none" stroke="currentColor" strokeWidth="2" strokeLinejoin="round" />
        <path d="M15 11.5v7M15 21v2.2" stroke="currentColor" strokeWidth="2.2" />
      </svg>
      <ul>
        {lines.map((line) => (
          <li key={line}>{line}</li>
        ))}
      </ul>
    </div>
  );
}

/** What stands where there is nothing to show: why, and the way on. */
export function StateNote({
  title,
  children,
  actions,
  role,
  isPage = false,
}: {
  title: ReactNode;
  children?: ReactNode;
  actions?: ReactNode;
  role?: 'status' | 'alert';
  /** it stands for the whole page, so its title is the page's */
  isPage?: boolean;
}) {
  const Heading = isPage ? 'h1' : 'h2';
  return (
    <div className={styles['state']} role={role}>
      <Heading>{title}</Heading>
      {children === undefined ? null : <p>{children}</p>}
      {actions === undefined ? null : <div className={styles['actions']}>{actions}</div>}
    </div>
  );
}

export function LoadingNote({ text }: { text: string }) {
  return (
    <div className={styles['state']} role="status">
      <p>{text}</p>
      <div className={styles['bars']} aria-hidden="true">
        <i />
        <i />
        <i />
      </div>
    </div>
  );
}
