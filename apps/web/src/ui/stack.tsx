import type { ReactNode } from 'react';
import styles from './stack.module.css';

export function StackedPanels({ children }: { children: ReactNode }) {
  return <div className={styles['stack']}>{children}</div>;
}

/** The main thing at the left, what explains it at the right; below each other when there is no room. */
export function MainAndAside({ main, aside }: { main: ReactNode; aside: ReactNode }) {
  return (
    <div className={styles['two']}>
      <div className={styles['stack']}>{main}</div>
      <div className={styles['stack']}>{aside}</div>
    </div>
  );
}

export function Halves({ children }: { children: ReactNode }) {
  return <div className={styles['halves']}>{children}</div>;
}
