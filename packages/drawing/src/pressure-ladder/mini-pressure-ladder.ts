import { toElement, type SvgElement } from '../svg/element.js';
import { toColour, type Paint } from '../svg/paint.js';
import { toStatusColour, type StatusShape } from '../svg/status-mark.js';
import { toPosition, type PressureAxis } from './axis.js';

/** The pressures of one circuit, gauge [Pa]; null: not known, and then not drawn. */
export interface MiniPressureLadderPressures {
  requiredPa: number | null;
  resetPointPa: number | null;
  setPointPa: number | null;
  settingPa: number | null;
  settingHalfWidthPa: number | null;
  workpieceLimitPa: number | null;
  weakestRatingPa: number | null;
  highestPossiblePa: number | null;
}

export interface MiniPressureLadderOptions {
  pressures: MiniPressureLadderPressures;
  status: StatusShape;
  /** ends of the axis, the same for all rows that are compared [Pa] */
  lowPa: number;
  highPa: number;
  widthPx: number;
  /** `row`: 26 px high for tables; `line`: 14 px for lists and labels */
  size: 'row' | 'line';
  paint: Paint;
  /** the accessible name, number and unit of what matters in it */
  title: string;
}

const SIZES = {
  row: { height: 26, half: 6.5, rating: 3.5, dot: 4.2, arrow: 4.5 },
  line: { height: 14, half: 4, rating: 2.5, dot: 2.8, arrow: 3 },
};

/** The pressure ladder lying on its side: the same marks, no words. What lies beyond the axis stands at its end. */
export function miniPressureLadder(options: MiniPressureLadderOptions): SvgElement {
  const { pressures, paint, widthPx } = options;
  const size = SIZES[options.size];
  const pad = size.dot + 3;
  const y = size.height / 2;
  const axis: PressureAxis = { lowPa: options.lowPa, highPa: Math.max(options.highPa, options.lowPa + 1), ticksPa: [] };
  const x = (pressurePa: number): number => toPosition(axis, pressurePa, pad, widthPx - pad);
  const ink = toColour(paint, 'ink');
  const stroke = (d: string, colour: string, width: number, dash?: string): SvgElement =>
    toElement('path', { d, fill: 'none', stroke: colour, 'stroke-width': width, 'stroke-dasharray': dash });

  const marks: SvgElement[] = [stroke(`M${pad} ${y}H${widthPx - pad}`, toColour(paint, 'rule-strong'), 1)];
  const { requiredPa, resetPointPa, setPointPa, settingPa, workpieceLimitPa, weakestRatingPa, highestPossiblePa } =
    pressures;
  const tops = [workpieceLimitPa, weakestRatingPa].filter((pa) => pa !== null);
  const topPa = tops.length === 0 ? null : Math.min(...tops);
  if (requiredPa !== null && topPa !== null && topPa > requiredPa) {
    marks.push(
      toElement('rect', {
        x: x(requiredPa),
        y: y - size.half,
        width: x(topPa) - x(requiredPa),
        height: size.half * 2,
        fill: toColour(paint, 'field'),
      }),
    );
  }
  if (highestPossiblePa !== null)
    marks.push(stroke(`M${x(highestPossiblePa)} ${y - size.half}v${size.half * 2}`, ink, 1.2, '2 2'));
  if (requiredPa !== null) marks.push(stroke(`M${x(requiredPa)} ${y - size.half - 2}v${size.half * 2 + 4}`, ink, 1.4));
  if (resetPointPa !== null)
    marks.push(stroke(`M${x(resetPointPa) + 3} ${y - size.half + 1}h-3v${size.half * 2 - 2}h3`, ink, 1.2));
  if (setPointPa !== null)
    marks.push(stroke(`M${x(setPointPa) - 3} ${y - size.half + 1}h3v${size.half * 2 - 2}h-3`, ink, 1.2));
  if (weakestRatingPa !== null) {
    marks.push(stroke(`M${x(weakestRatingPa)} ${y - size.half - 2}v${size.half * 2 + 4}`, ink, size.rating));
  }
  if (workpieceLimitPa !== null) {
    const tip = x(workpieceLimitPa);
    marks.push(stroke(`M${tip + size.arrow} ${y - size.arrow}L${tip} ${y}l${size.arrow} ${size.arrow}`, ink, 1.6));
  }
  if (settingPa !== null) {
    const colour =
      options.status === 'fails' || options.status === 'marginal' ? toStatusColour(paint, options.status) : ink;
    const half = pressures.settingHalfWidthPa ?? 0;
    if (half > 0) marks.push(stroke(`M${x(settingPa - half)} ${y}H${x(settingPa + half)}`, colour, 2));
    marks.push(toElement('circle', { cx: x(settingPa), cy: y, r: size.dot, fill: colour }));
  }
  return toElement(
    'svg',
    {
      viewBox: `0 0 ${widthPx} ${size.height}`,
      width: widthPx,
      height: size.height,
      role: 'img',
      'aria-label': options.title,
      class: 'pl-mini',
    },
    ...marks,
  );
}
