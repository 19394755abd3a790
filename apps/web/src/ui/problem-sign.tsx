import { toStatusMark } from '@repo/drawing';
import styles from './problem-sign.module.css';
import { SvgDrawing } from './svg-drawing';

/** The sign of what does not go, beside the words that say so: the only red of a refusal that is no field's. */
export function ProblemSign() {
  return (
    <svg className={styles['sign']} viewBox="0 0 14 14" aria-hidden="true">
      <SvgDrawing drawing={toStatusMark('fails', 'page')} />
    </svg>
  );
}
