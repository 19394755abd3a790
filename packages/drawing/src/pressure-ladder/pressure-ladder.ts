import { toElement, type SvgElement } from '../svg/element.js';
import { toColour } from '../svg/paint.js';
import { toStatusColour, toStatusMark } from '../svg/status-mark.js';
import { getTextWidth, toFitted } from '../svg/text-width.js';
import { toPosition } from './axis.js';
import {
  NUMBER_PX,
  REACH_PX,
  SMALL_PX,
  toLayout,
  TYPE_PX,
  type RungColumn,
  type RungLayout,
  type RungRow,
  type PlacedRung,
} from './layout.js';
import { toField, toMark, toRungColour, type MarkFrame } from './marks.js';
import type { DrawnRung, PressureLadderOptions } from './types.js';

const SANS = "'IBM Plex Sans', system-ui, sans-serif";
/** Two letters and dots tell nobody anything: below this the number and the mark stand alone. */
const LEAST_NAME_PX = 52;
const MONO = "'IBM Plex Mono', ui-monospace, monospace";

/**
 * The pressure ladder of one or more circuits on one shared axis.
 *
 * Columns stand side by side while the width allows, else in rows; at 360 px there is one column. Labels keep the order of their marks, never
 * touch, and a leader joins each to its mark. A rung that is not known is listed below its column. With `isInteractive` every rung (its mark
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
  for (const { rung, yPx } of column.unknown) children.push(toUnknown(options, column, rung, yPx));
  if (column.noWindowYPx !== null) children.push(toNoWindow(options, column, column.noWindowYPx));
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
  const { circuit } = column;
  const left = column.fieldLeftPx - REACH_PX;
  const room = column.labelRightPx - left;
  const word = words.statuses[circuit.status];
  const wordPx = getTextWidth(word, 'sans', SMALL_PX) + 18;
  const title = toFitted(circuit.title, 'sans-bold', 14, room - wordPx - 12);
  const markX = left + getTextWidth(title, 'sans-bold', 14) + 12;
  const header = [
    toElement(
      'text',
      { x: left, y: row.topPx + 16, fill: toColour(paint, 'ink'), 'font-weight': 600, 'font-size': 14 },
      toElement('title', {}, circuit.title),
      title,
    ),
    toStatusMark(circuit.status, paint, markX, row.topPx + 4.5),
    toElement(
      'text',
      { x: markX + 18, y: row.topPx + 16, fill: toStatusColour(paint, circuit.status), 'font-size': SMALL_PX },
      word,
    ),
  ];
  if (circuit.subtitle !== null) {
    const attributes = { x: left, y: row.topPx + 34, fill: toColour(paint, 'ink-3'), 'font-size': SMALL_PX };
    header.push(toElement('text', attributes, toFitted(circuit.subtitle, 'sans', SMALL_PX, room)));
  }
  return header;
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
  const isTold = rung.status !== null && rung.status !== 'holds';
  const isStrong = isTold || rung.isWeakest || rung.code === 'required' || rung.code === 'setting';
  const colour = toRungColour(paint, rung);
  const { number, tolerance } = words.format(placed.pressurePa, rung.halfWidthPa);
  const numberRight = left + layout.numberWidthPx;
  const leaderFrom = column.fieldRightPx + REACH_PX + 1;
  const label: SvgElement[] = [
    toGround(options, column, y),
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
  let nameLeft = numberRight + layout.toleranceWidthPx + 10;
  if (isTold && rung.status !== null && nameLeft + 14 <= column.labelRightPx) {
    label.push(toStatusMark(rung.status, paint, nameLeft, y - 7));
    nameLeft += 19;
  }
  const room = column.labelRightPx - nameLeft;
  if (room >= LEAST_NAME_PX) {
    const fill = isStrong ? colour : toColour(paint, 'ink-2');
    label.push(...toLine(rung.label, isStrong ? 'sans-bold' : 'sans', room, { x: nameLeft, y: y + 4.5, fill }));
  }
  return label;
}

/** A beginning of a text without the word that it cuts in two; a single long word stays cut. */
function toWholeWords(text: string, beginning: string): string {
  if (text.charAt(beginning.length) === ' ') return beginning;
  const space = beginning.lastIndexOf(' ');
  return space <= 0 ? beginning : beginning.slice(0, space);
}

/**
 * One line of words. Where it is cut, three drawn dots say so: as letters they would be part of what one sees, and the
 * full name would no longer contain it.
 */
function toLine(
  text: string,
  face: 'sans' | 'sans-bold',
  room: number,
  place: { x: number; y: number; fill: string },
): SvgElement[] {
  const fitted = toFitted(text, face, TYPE_PX, room);
  if (fitted === '') return [];
  const isCut = fitted !== text;
  const shown = isCut ? toWholeWords(text, fitted.slice(0, -1)) : fitted;
  const line = toElement('text', { ...place, 'font-weight': face === 'sans-bold' ? 600 : 400 }, shown);
  if (!isCut) return [line];
  const x = place.x + getTextWidth(shown, face, TYPE_PX) + 1.5;
  const dots = [0, 3.4, 6.8].map((step) =>
    toElement('circle', { cx: x + step, cy: place.y - 1, r: 0.8, fill: place.fill }),
  );
  return [line, ...dots];
}

/** What is pressed and framed by the focus: the whole line of the label. */
function toGround(options: PressureLadderOptions, column: RungColumn, y: number): SvgElement {
  const height = options.isInteractive ? 24 : 16;
  return toElement('rect', {
    class: 'pl-ground',
    x: column.labelLeftPx - 3,
    y: y - height / 2,
    width: Math.max(24, column.labelRightPx - column.labelLeftPx + 6),
    height,
    rx: 2,
    fill: toColour(options.paint, 'panel'),
  });
}

function toUnknown(options: PressureLadderOptions, column: RungColumn, rung: DrawnRung, y: number): SvgElement {
  const { paint, words } = options;
  const left = column.fieldLeftPx - REACH_PX;
  const height = options.isInteractive ? 24 : 16;
  const text = `${rung.label}: ${words.notKnown}`;
  return toElement(
    'g',
    toRungAttributes(options, column, rung),
    toElement('rect', {
      class: 'pl-ground',
      x: left - 2,
      y: y - height / 2,
      width: column.labelRightPx - left + 5,
      height,
      rx: 2,
      fill: toColour(paint, 'panel'),
    }),
    toStatusMark('unproven', paint, left, y - 7),
    ...toLine(text, 'sans', column.labelRightPx - left - 20, {
      x: left + 20,
      y: y + 4.5,
      fill: toStatusColour(paint, 'unproven'),
    }),
  );
}

function toNoWindow(options: PressureLadderOptions, column: RungColumn, y: number): SvgElement {
  const left = column.fieldLeftPx - REACH_PX;
  return toElement(
    'g',
    {},
    toStatusMark('fails', options.paint, left, y - 7),
    toElement(
      'text',
      { x: left + 20, y: y + 4.5, fill: toStatusColour(options.paint, 'fails'), 'font-weight': 600 },
      toFitted(options.words.noWindow, 'sans-bold', TYPE_PX, column.labelRightPx - left - 20),
    ),
  );
}
