import { useId } from 'react';
import styles from './counts.module.css';

export interface StripBar {
  /** share of the width at which it begins, 0 to 1 */
  start: number;
  width: number;
  value: number;
  isRevised: boolean;
}

const WIDTH = 1000;
const HEIGHT = 44;
/** Where the marks of revisions stand. */
const FOOT = 6;

/** One quantity over time: a bar for each hour or day, hatching where nothing was reported, a mark where something was revised. */
export function CountStrip({
  label,
  bars,
  gaps,
  isStrong,
}: {
  label: string;
  bars: readonly StripBar[];
  gaps: readonly { start: number; width: number }[];
  isStrong: boolean;
}) {
  const hatch = useId();
  const most = Math.max(1, ...bars.map(({ value }) => value));
  return (
    <svg
      className={styles['strip']}
      viewBox={`0 0 ${WIDTH} ${HEIGHT}`}
      preserveAspectRatio="none"
      role="img"
      aria-label={label}
    >
      <defs>
        <pattern id={hatch} width="9" height="9" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
          <path d="M0 0v9" className={styles['hatch']} />
        </pattern>
      </defs>
      {gaps.map((gap) => (
        <rect
          key={gap.start}
          x={gap.start * WIDTH}
          width={Math.max(1, gap.width * WIDTH)}
          y={0}
          height={HEIGHT - FOOT}
          fill={`url(#${hatch})`}
        />
      ))}
      {bars.map((bar) => {
        const height = (bar.value / most) * (HEIGHT - FOOT - 2);
        const width = Math.max(1, bar.width * WIDTH - 1);
        return (
          <g key={bar.start}>
            {bar.value === 0 ? null : (
              <rect
                x={bar.start * WIDTH}
                width={width}
                y={HEIGHT - FOOT - height}
                height={height}
                className={isStrong ? styles['alarmBar'] : styles['cycleBar']}
              />
            )}
            {bar.isRevised ? (
              <rect x={bar.start * WIDTH} width={width} y={HEIGHT - 3} height={3} className={styles['revisedMark']} />
            ) : null}
          </g>
        );
      })}
      <path d={`M0 ${HEIGHT - FOOT}H${WIDTH}`} className={styles['base']} vectorEffect="non-scaling-stroke" />
    </svg>
  );
}
