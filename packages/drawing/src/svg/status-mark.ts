import { toColour, type Paint, type PaintName } from './paint.js';
import { toElement, type SvgElement } from './element.js';

/** Every status has its own outline, so that it is told apart without colour and in print. */
export type StatusShape = 'holds' | 'marginal' | 'fails' | 'unproven' | 'not-applicable' | 'drifting';

const COLOURS: Readonly<Record<StatusShape, PaintName>> = {
  holds: 'ink-2',
  marginal: 'marginal',
  fails: 'fails',
  unproven: 'unproven',
  drifting: 'unproven',
  'not-applicable': 'ink-3',
};

export function toStatusColour(paint: Paint, status: StatusShape): string {
  return toColour(paint, COLOURS[status]);
}

/** The mark of a status in a 14 × 14 box whose upper left corner is (x, y). Decorative: the word beside it speaks. */
export function toStatusMark(status: StatusShape, paint: Paint, x = 0, y = 0): SvgElement {
  const colour = toStatusColour(paint, status);
  const line = (d: string, width: number, stroke = colour, dash?: string): SvgElement =>
    toElement('path', { d, fill: 'none', stroke, 'stroke-width': width, 'stroke-dasharray': dash });
  const place = { transform: `translate(${x} ${y})`, 'aria-hidden': 'true' };
  switch (status) {
    case 'holds':
      return toElement(
        'g',
        place,
        toElement('circle', { cx: 7, cy: 7, r: 5.8, fill: 'none', stroke: colour }),
        line('M4.2 7.3l1.9 1.9 3.7-4.2', 1.3),
      );
    case 'marginal':
      return toElement(
        'g',
        place,
        line('M7 .9l6.1 6.1L7 13.1.9 7z', 1.3),
        toElement('path', { d: 'M7 .9v12.2L.9 7z', fill: colour }),
      );
    case 'fails':
      return toElement(
        'g',
        place,
        toElement('rect', { x: 1, y: 1, width: 12, height: 12, fill: colour }),
        line('M4 4l6 6M10 4l-6 6', 1.8, toColour(paint, 'panel')),
      );
    case 'unproven':
      return toElement(
        'g',
        place,
        toElement('circle', {
          cx: 7,
          cy: 7,
          r: 5.7,
          fill: 'none',
          stroke: colour,
          'stroke-width': 1.3,
          'stroke-dasharray': '2.4 1.8',
        }),
        toElement('circle', { cx: 7, cy: 7, r: 1.5, fill: colour }),
      );
    case 'drifting':
      return toElement('g', place, line('M1.5 12.5L6 8l2.5 2L12.5 3M12.5 7V3h-4', 1.4));
    case 'not-applicable':
      return toElement('g', place, line('M2.5 7h9', 1.3));
  }
}
