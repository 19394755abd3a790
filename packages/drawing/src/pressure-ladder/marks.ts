import { toElement, type SvgElement } from '../svg/element.js';
import { toColour, type Paint } from '../svg/paint.js';
import { toStatusColour } from '../svg/status-mark.js';
import { toPosition, type PressureAxis } from './axis.js';
import { REACH_PX, type RungColumn, type RungRow, type PlacedRung } from './layout.js';
import type { DrawnRung } from './types.js';

export interface MarkFrame {
  paint: Paint;
  axis: PressureAxis;
  row: RungRow;
  column: RungColumn;
  hatchId: string;
}

const BRACKET_PX = 7;
const BRACKET_ARM_PX = 14;

export function toY(frame: MarkFrame, pressurePa: number): number {
  return toPosition(frame.axis, pressurePa, frame.row.plotBottomPx, frame.row.axisTopPx);
}

/** A rung whose check is in order is ink; else it takes the status' colour, and its label the status' mark. */
export function toRungColour(paint: Paint, rung: DrawnRung): string {
  return rung.status === null || rung.status === 'holds' ? toColour(paint, 'ink') : toStatusColour(paint, rung.status);
}

/** The track, the window, and hatching wherever the setting with its tolerance stands outside the window. */
export function toField(frame: MarkFrame): SvgElement {
  const { column, row, paint } = frame;
  const left = column.fieldLeftPx;
  const children: SvgElement[] = [];
  const band = (fromPa: number, toPa: number, fill: string): void => {
    const top = toY(frame, toPa);
    children.push(
      toElement('rect', {
        x: left,
        y: top,
        width: column.fieldRightPx - left,
        height: Math.max(0, toY(frame, fromPa) - top),
        fill,
      }),
    );
  };
  const { lowPa, highPa } = column.circuit.window;
  if (lowPa !== null && highPa !== null && lowPa < highPa) band(lowPa, highPa, toColour(paint, 'field'));
  const setting = column.circuit.rungs.find((rung) => rung.code === 'setting');
  if (setting?.pressurePa != null) {
    const low = setting.pressurePa - (setting.halfWidthPa ?? 0);
    const high = setting.pressurePa + (setting.halfWidthPa ?? 0);
    const hatch = `url(#${frame.hatchId})`;
    if (highPa !== null && high > highPa) band(highPa, high, hatch);
    if (lowPa !== null && low < lowPa) band(low, lowPa, hatch);
  }
  const edge = toColour(paint, 'rule-strong');
  for (const x of [left, column.fieldRightPx]) {
    // The zigzag says that the axis does not go on evenly above it.
    const broken = `M${x} ${row.plotTopPx}v8l-4 3l8 4l-4 3V${row.plotBottomPx}`;
    const whole = `M${x} ${row.plotTopPx}V${row.plotBottomPx}`;
    const d = row.axisTopPx > row.plotTopPx ? broken : whole;
    children.push(toElement('path', { d, fill: 'none', stroke: edge }));
  }
  children.push(...toBracketSpine(frame));
  return toElement('g', { 'aria-hidden': 'true' }, ...children);
}

/** Joins reset point and set point to one bracket. */
function toBracketSpine(frame: MarkFrame): SvgElement[] {
  const pressures = frame.column.circuit.rungs
    .filter((rung) => rung.code === 'reset-point' || rung.code === 'set-point')
    .flatMap((rung) => (rung.pressurePa === null ? [] : [rung.pressurePa]));
  if (pressures.length < 2) return [];
  const x = frame.column.fieldLeftPx + BRACKET_PX;
  const d = `M${x} ${toY(frame, Math.min(...pressures))}V${toY(frame, Math.max(...pressures))}`;
  return [toElement('path', { d, fill: 'none', stroke: toColour(frame.paint, 'ink'), 'stroke-width': 1.5 })];
}

/** The mark of one rung, the same everywhere. */
export function toMark(frame: MarkFrame, placed: PlacedRung): SvgElement[] {
  const { column, paint } = frame;
  const { rung, pressurePa } = placed;
  const left = column.fieldLeftPx;
  const right = column.fieldRightPx;
  const y = placed.markYPx;
  const dot = (left + right) / 2 + 2;
  const colour = toRungColour(paint, rung);
  const line = (d: string, width: number, dash?: string): SvgElement =>
    toElement('path', { d, fill: 'none', stroke: colour, 'stroke-width': width, 'stroke-dasharray': dash });
  const tolerance = (x: number, width: number, fill: string): SvgElement[] => {
    if (rung.halfWidthPa === null || rung.halfWidthPa <= 0) return [];
    const top = toY(frame, pressurePa + rung.halfWidthPa);
    const height = Math.max(1, toY(frame, pressurePa - rung.halfWidthPa) - top);
    return [toElement('rect', { x, y: top, width, height, fill })];
  };
  switch (rung.code) {
    case 'required':
      return [line(`M${left - REACH_PX} ${y}H${right}`, 1.8)];
    case 'reset-point':
    case 'set-point':
      return [
        ...tolerance(left + BRACKET_PX + 1, BRACKET_ARM_PX - 1, toColour(paint, 'block')),
        line(`M${left + BRACKET_PX} ${y}h${BRACKET_ARM_PX}`, 1.5),
      ];
    case 'setting':
      return [
        ...tolerance(dot - 6, 12, toColour(paint, 'block')),
        toElement('circle', { cx: dot, cy: y, r: 6, fill: colour }),
      ];
    case 'highest-possible':
      return [line(`M${left} ${y}H${right}`, 1.6, '2 3')];
    case 'pump-restart':
      return [line(`M${left} ${y}H${right}`, 1.2, '1 4')];
    case 'rating':
      return [line(`M${right - 16} ${y}H${right + REACH_PX - 1}`, rung.isWeakest ? 4.5 : 1.5)];
    case 'workpiece-limit':
      return [line(`M${right + 7} ${y - 6}L${right - 1} ${y}l8 6`, 1.9)];
  }
}
