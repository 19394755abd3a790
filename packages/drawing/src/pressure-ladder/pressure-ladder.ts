import { toElement, type SvgAttributes, type SvgElement } from '../svg/element.js';
import { toColour } from '../svg/paint.js';
import { toStatusColour, toStatusMark } from '../svg/status-mark.js';
import { getTextWidth } from '../svg/text-width.js';
import { toPosition } from './axis.js';
import { isTold, LINE_PX, MARK_PX, SMALL_PX, TITLE_LINE_PX, TITLE_PX, TYPE_PX } from './labels.js';
import {
  NUMBER_PX,
  REACH_PX,
  toLayout,
  type NoteBelow,
  type RungColumn,
  type RungLayout,
  type RungRow,
  type PlacedRung,
} from './layout.js';
import { toField, toMark, toRungColour, type MarkFrame } from './marks.js';
import type { DrawnRung, PressureLadderOptions } from './types.js';

const SANS = "'IBM Plex Sans', system-ui, sans-serif";
const MONO = "'IBM Plex Mono', ui-monospace, monospace";

/**
 * The pressure ladder of one or more circuits on one shared axis.
 *
 * Columns stand side by side while the width allows, else in rows; at 360 px there is one column. Labels keep the order of their marks, never
 * touch, go over as many lines as they need, and a leader joins each to its mark. A rung that is not known is listed below its column. With `isInteractive` every rung (its mark
 * with its label) is one focusable element with `data-circuit`, `data-rung` and a name that holds number and unit.
 */
export function pressureLadder(options: PressureLadderOptions): SvgElement {
  const layout = toLayout(options);
  return toElement(
    'svg',
    {
      viewBox: `0 0 ${layout.widthPx} ${layout.heightPx}`,
      width: layout.widthPx,
      height: layout.heightPx,
      role: options.isInteractive ? 'group' : 'img',
      'aria-label': options.words.title,
      class: 'pl',
      'font-family': SANS,
      'font-size': TYPE_PX,
    },
    toHatch(options),
    ...layout.rows.flatMap((row) => [
      toAxis(options, layout, row),
      ...row.columns.map((column) => toCircuit(options, layout, row, column)),
    ]),
  );
}

function toHatchId(options: PressureLadderOptions): string {
  return `${options.idPrefix}-hatch`;
}

function toHatch(options: PressureLadderOptions): SvgElement {
  return toElement(
    'defs',
    {},
    toElement(
      'pattern',
      {
        id: toHatchId(options),
        width: 6,
        height: 6,
        patternUnits: 'userSpaceOnUse',
        patternTransform: 'rotate(45)',
      },
      toElement('rect', { width: 6, height: 6, fill: toColour(options.paint, 'fails-wash') }),
      toElement('path', { d: 'M0 0V6', stroke: toColour(options.paint, 'fails'), 'stroke-width': 1.7 }),
    ),
  );
}

function toAxis(options: PressureLadderOptions, layout: RungLayout, row: RungRow): SvgElement {
  const { paint, words } = options;
  const { axis, axisWidthPx } = layout;
  if (axis === null) return toElement('g', { 'aria-hidden': 'true' });
  const last = row.columns.at(-1);
  const right = last === undefined ? axisWidthPx : last.fieldRightPx;
  const children: SvgElement[] = [
    toElement(
      'text',
      { x: 0, y: row.plotTopPx - 18, fill: toColour(paint, 'ink-3'), 'font-size': SMALL_PX },
      words.unit,
    ),
  ];
  for (const tickPa of axis.ticksPa) {
    const y = toPosition(axis, tickPa, row.plotBottomPx, row.axisTopPx);
    children.push(
      toElement('path', { d: `M${axisWidthPx} ${y}H${right}`, stroke: toColour(paint, 'rule'), fill: 'none' }),
      toElement(
        'text',
        {
          x: axisWidthPx - 8,
          y: y + 4,
          'text-anchor': 'end',
          fill: toColour(paint, 'ink-3'),
          'font-family': MONO,
          'font-size': SMALL_PX,
        },
        words.format(tickPa, null).number,
      ),
    );
  }
  return toElement('g', { 'aria-hidden': 'true' }, ...children);
}

function toCircuit(options: PressureLadderOptions, layout: RungLayout, row: RungRow, column: RungColumn): SvgElement {
  const children: SvgElement[] = [...toHeader(options, row, column)];
  if (layout.axis !== null) {
    const frame: MarkFrame = { paint: options.paint, axis: layout.axis, row, column, hatchId: toHatchId(options) };
    // The labels' ground hides the grid lines of the shared axis, which would else run through the words.
    children.push(toField(frame), ...column.rungs.map((placed) => toRung(options, layout, frame, placed)));
  }
  for (const { rung, ...note } of column.unknown) children.push(toUnknown(options, column, rung, note));
  if (column.noWindow !== null) children.push(toNoWindow(options, column, column.noWindow));
  return toElement(
    'g',
    {
      role: options.isInteractive ? 'group' : undefined,
      'aria-label': options.isInteractive
        ? `${column.circuit.title}: ${options.words.statuses[column.circuit.status]}`
        : undefined,
      'data-circuit': column.circuit.id,
    },
    ...children,
  );
}

function toHeader(options: PressureLadderOptions, row: RungRow, column: RungColumn): SvgElement[] {
  const { paint, words } = options;
  const { circuit, header, noteLeftPx: x } = column;
  const markX = x + getTextWidth((header.title[0] ?? '').trimEnd(), 'sans-bold', TITLE_PX) + 12;
  const titleY = row.topPx + 16;
  const subtitleY = titleY + header.title.length * TITLE_LINE_PX;
  const title = { x, y: titleY, fill: toColour(paint, 'ink'), 'font-weight': 600, 'font-size': TITLE_PX };
  const subtitle = { x, y: subtitleY, fill: toColour(paint, 'ink-3'), 'font-size': SMALL_PX };
  return [
    ...toLines(header.title, title, TITLE_LINE_PX),
    toStatusMark(circuit.status, paint, markX, row.topPx + 4.5),
    toElement(
      'text',
      { x: markX + 18, y: titleY, fill: toStatusColour(paint, circuit.status), 'font-size': SMALL_PX },
      words.statuses[circuit.status],
    ),
    ...toLines(header.subtitle, subtitle, LINE_PX),
  ];
}

function toLines(lines: readonly string[], first: { y: number } & SvgAttributes, stepPx: number): SvgElement[] {
  return lines.map((line, n) => toElement('text', { ...first, y: first.y + n * stepPx }, line));
}

/**
 * Name for those who hear the drawing or speak to it: it begins with what is written at the mark, in that order, so that
 * saying what one sees finds it (WCAG 2.2, 2.5.3); unit and status follow.
 */
function toSpoken(options: PressureLadderOptions, rung: DrawnRung): string {
  const { words } = options;
  if (rung.pressurePa === null) return `${rung.label}: ${words.notKnown}`;
  const status = rung.status === null || rung.status === 'holds' ? '' : `, ${words.statuses[rung.status]}`;
  const { number, tolerance } = words.format(rung.pressurePa, rung.halfWidthPa);
  return `${number}${tolerance === null ? '' : ` ± ${tolerance}`} ${rung.label}, ${words.unit}${status}`;
}

function toRungAttributes(options: PressureLadderOptions, column: RungColumn, rung: DrawnRung) {
  const { selected } = options;
  const isSelected = selected?.circuitId === column.circuit.id && selected.rungId === rung.id;
  const shared = {
    id: `${options.idPrefix}-${column.circuit.id}-${rung.id}`,
    class: 'pl-rung',
    'data-code': rung.code,
  };
  if (!options.isInteractive) return shared;
  return {
    ...shared,
    'data-rung': rung.id,
    'data-circuit': column.circuit.id,
    tabindex: 0,
    role: 'button',
    'aria-label': toSpoken(options, rung),
    'aria-pressed': isSelected ? 'true' : 'false',
  };
}

function toRung(options: PressureLadderOptions, layout: RungLayout, frame: MarkFrame, placed: PlacedRung): SvgElement {
  const { column } = frame;
  const children: SvgElement[] = [];
  if (placed.labelYPx !== null) children.push(...toLabel(options, layout, frame, placed, placed.labelYPx));
  children.push(toElement('g', { class: 'pl-mark' }, ...toMark(frame, placed)));
  return toElement('g', toRungAttributes(options, column, placed.rung), ...children);
}

function toLabel(
  options: PressureLadderOptions,
  layout: RungLayout,
  frame: MarkFrame,
  placed: PlacedRung,
  y: number,
): SvgElement[] {
  const { paint, words } = options;
  const { column } = frame;
  const { rung } = placed;
  const left = column.labelLeftPx;
  const { label: name } = placed;
  const isStrong = name?.isStrong ?? isTold(rung);
  const colour = toRungColour(paint, rung);
  const { number, tolerance } = words.format(placed.pressurePa, rung.halfWidthPa);
  const numberRight = left + layout.numberWidthPx;
  const leaderFrom = column.fieldRightPx + REACH_PX + 1;
  const label: SvgElement[] = [
    toGround(options, column, y, name?.extraPx ?? 0),
    toElement('path', {
      d: `M${leaderFrom} ${placed.markYPx}h3L${left - 7} ${y}h4`,
      stroke: toColour(paint, 'rule-strong'),
      fill: 'none',
    }),
    toElement(
      'text',
      {
        x: numberRight,
        y: y + 4.5,
        'text-anchor': 'end',
        fill: colour,
        'font-family': MONO,
        'font-size': NUMBER_PX,
        'font-weight': isStrong ? 500 : 400,
      },
      `${number} `,
    ),
  ];
  if (tolerance !== null) {
    label.push(
      toElement(
        'text',
        { x: numberRight + 6, y: y + 4.5, fill: colour, 'font-family': MONO, 'font-size': NUMBER_PX },
        `± ${tolerance} `,
      ),
    );
  }
  const markLeft = numberRight + layout.toleranceWidthPx + 10;
  if (isTold(rung) && rung.status !== null && markLeft + 14 <= column.labelRightPx) {
    label.push(toStatusMark(rung.status, paint, markLeft, y - 7));
  }
  if (name === null) return label;
  const fill = isStrong ? colour : toColour(paint, 'ink-2');
  const firstY = y + 4.5 + (name.isBelow ? LINE_PX : 0);
  label.push(...toLines(name.lines, { x: name.leftPx, y: firstY, fill, 'font-weight': isStrong ? 600 : 400 }, LINE_PX));
  return label;
}

/** What is pressed and framed by the focus: the whole line of the label. */
function toGround(options: PressureLadderOptions, column: RungColumn, y: number, extraPx: number): SvgElement {
  const height = options.isInteractive ? 24 : 16;
  return toElement('rect', {
    class: 'pl-ground',
    x: column.labelLeftPx - 3,
    y: y - height / 2,
    width: Math.max(24, column.labelRightPx - column.labelLeftPx + 6),
    height: height + extraPx,
    rx: 2,
    fill: toColour(options.paint, 'panel'),
  });
}

function toUnknown(options: PressureLadderOptions, column: RungColumn, rung: DrawnRung, note: NoteBelow): SvgElement {
  const { paint } = options;
  const { noteLeftPx: left } = column;
  const height = options.isInteractive ? 24 : 16;
  return toElement(
    'g',
    toRungAttributes(options, column, rung),
    toElement('rect', {
      class: 'pl-ground',
      x: left - 2,
      y: note.yPx - height / 2,
      width: column.labelRightPx - left + 5,
      height: height + (note.lines.length - 1) * LINE_PX,
      rx: 2,
      fill: toColour(paint, 'panel'),
    }),
    ...toNote(options, column, note, { status: 'unproven', weight: 400 }),
  );
}

function toNote(
  { paint }: PressureLadderOptions,
  { noteLeftPx: left }: RungColumn,
  { yPx, lines }: NoteBelow,
  { status, weight }: { status: 'unproven' | 'fails'; weight: number },
): SvgElement[] {
  const fill = toStatusColour(paint, status);
  return [
    toStatusMark(status, paint, left, yPx - 7),
    ...toLines(lines, { x: left + MARK_PX + 1, y: yPx + 4.5, fill, 'font-weight': weight }, LINE_PX),
  ];
}

function toNoWindow(options: PressureLadderOptions, column: RungColumn, note: NoteBelow): SvgElement {
  return toElement('g', {}, ...toNote(options, column, note, { status: 'fails', weight: 600 }));
}
