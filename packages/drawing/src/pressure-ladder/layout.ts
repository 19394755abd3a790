import { getTextWidth } from '../svg/text-width.js';
import { toPosition, toPressureAxis, type PressureAxis } from './axis.js';
import {
  LINE_PX,
  SMALL_PX,
  toCircuitHeader,
  toNoteLines,
  toRungLabel,
  type CircuitHeader,
  type RungLabel,
} from './labels.js';
import { spreadLabels } from './spread-labels.js';
import type { DrawnCircuit, DrawnRung, PressureLadderOptions, PressureLadderWords, RungCode } from './types.js';

/** Where everything of a pressure ladder stands. All positions in pixels of the view box. */
export interface RungLayout {
  widthPx: number;
  heightPx: number;
  /** true: ratings far above all else stand beyond a break, and only their numbers tell how far */
  isBroken: boolean;
  /** null when no pressure of any circuit is known */
  axis: PressureAxis | null;
  axisWidthPx: number;
  hasNames: boolean;
  numberWidthPx: number;
  toleranceWidthPx: number;
  rows: readonly RungRow[];
}

export interface RungRow {
  topPx: number;
  plotTopPx: number;
  /** where the axis ends; above it, up to `plotTopPx`, stands what lies beyond a broken axis */
  axisTopPx: number;
  plotBottomPx: number;
  columns: readonly RungColumn[];
}

export interface RungColumn extends ColumnPlace {
  circuit: DrawnCircuit;
  header: CircuitHeader;
  /** from the top down */
  rungs: readonly PlacedRung[];
  unknown: readonly ({ rung: DrawnRung } & NoteBelow)[];
  noWindow: NoteBelow | null;
}

/** Lines below a column; `yPx` is the centre of the first. */
export interface NoteBelow {
  yPx: number;
  lines: readonly string[];
}

export interface PlacedRung {
  rung: DrawnRung;
  pressurePa: number;
  markYPx: number;
  /** centre of the first line of its label; null: the mark alone, its name is in its accessible name */
  labelYPx: number | null;
  /** its name; null: its number alone */
  label: RungLabel | null;
}

export const NUMBER_PX = 12.5;
const FIELD_PX = { wide: 64, narrow: 46 };
/** Reach of the `required` bar to the left of the field, and of a rating's bar to its right. */
export const REACH_PX = 12;
const HEADER_PX = 46;
const PLOT_PAD_PX = 14;
const ROW_GAP_PX = 30;
const LANE_PX = 24;
/** Least room for a name beside its numbers. */
const NAME_MIN_PX = 100;
const EDGE_PX = 22;
/** A rating this many times above all that matters would squeeze the window: the axis is broken below it. */
const BREAK_RATIO = 1.5;
const BREAK_PX = 26;
const COLUMN_MAX_PX = { alone: 620, beside: 460 };
const NAMED_AT_MOST = 6;

/** Touching neighbours need 24 px to be hit; a picture only needs its lines apart. */
const LABEL_GAP_PX = { interactive: 24, still: 17 };

/** From the top down among rungs of equal pressure. */
const RANK: readonly RungCode[] = [
  'highest-possible',
  'rating',
  'workpiece-limit',
  'setting',
  'pump-restart',
  'set-point',
  'reset-point',
  'required',
];

export function toLayout(options: PressureLadderOptions): RungLayout {
  const { circuits, words } = options;
  const widthPx = Math.max(280, Math.floor(options.widthPx));
  const gap = options.isInteractive ? LABEL_GAP_PX.interactive : LABEL_GAP_PX.still;
  const hasNames = options.labels === 'full' || (options.labels !== 'numbers' && circuits.length <= NAMED_AT_MOST);
  const isLabelled = (rung: DrawnRung): boolean => hasNames || rung.code !== 'rating' || rung.isWeakest;

  const known = circuits.map((circuit) => toKnown(circuit.rungs));
  const labelCount = Math.max(0, ...known.map((rungs) => rungs.filter(({ rung }) => isLabelled(rung)).length));
  const leastHeightPx = Math.max(widthPx < 560 ? 340 : 420, (labelCount + 1) * gap);
  const { pressures, isBroken } = toPressures(circuits);
  const axis = pressures.length === 0 ? null : toPressureAxis(pressures, words.pascalPerUnit, leastHeightPx / 46);

  const texts = known.flat().map(({ rung, pressurePa }) => words.format(pressurePa, rung.halfWidthPa));
  const width = (text: string, size: number): number => getTextWidth(text, 'mono', size);
  const numberWidthPx = Math.max(24, ...texts.map((text) => width(text.number, NUMBER_PX)));
  const toleranceWidthPx = Math.max(
    0,
    ...texts.map((text) => (text.tolerance === null ? 0 : width(`± ${text.tolerance}`, NUMBER_PX) + 6)),
  );
  const ticks = axis === null ? [] : axis.ticksPa.map((pa) => width(words.format(pa, null).number, SMALL_PX));
  const axisWidthPx = Math.ceil(Math.max(28, getTextWidth(words.unit, 'sans', SMALL_PX), ...ticks)) + 10;

  const fieldPx = widthPx < 480 ? FIELD_PX.narrow : FIELD_PX.wide;
  const drawnPx = REACH_PX + 2 + fieldPx + REACH_PX + LANE_PX + EDGE_PX;
  const least = drawnPx + numberWidthPx + toleranceWidthPx + (hasNames ? NAME_MIN_PX : 8);
  const fitting = Math.max(1, Math.floor((widthPx - axisWidthPx) / least));
  const rowCount = Math.max(1, Math.ceil(circuits.length / fitting));
  // As even as can be: eight circuits in rows of four, not of five and three.
  const perRow = Math.max(1, Math.ceil(circuits.length / rowCount));
  const columnPx = Math.min(
    perRow === 1 ? COLUMN_MAX_PX.alone : COLUMN_MAX_PX.beside,
    (widthPx - axisWidthPx) / perRow,
  );

  const named = circuits.map((circuit, n) => {
    const place = toPlace(axisWidthPx + (n % perRow) * columnPx, { columnPx, fieldPx, isAlone: perRow === 1 });
    const besidePx = place.labelLeftPx + numberWidthPx + toleranceWidthPx + 10;
    const rungs = (known[n] ?? []).map((rung) => {
      const isNamed = isLabelled(rung.rung);
      const label = isNamed ? toRungLabel(rung.rung, { ...place, besidePx, mayGoBelow: hasNames }) : null;
      return { ...rung, isLabelled: isNamed, label, gapPx: gap + (label?.extraPx ?? 0) };
    });
    const header = toCircuitHeader(circuit, words, place.labelRightPx - place.noteLeftPx);
    return { circuit, place, header, rungs };
  });
  const toLabelsPx = ({ rungs }: NamedCircuit): number =>
    rungs.reduce((sum, rung) => sum + (rung.isLabelled ? rung.gapPx : 0), 0);
  const plotHeightPx = Math.max(leastHeightPx, ...named.map((one) => toLabelsPx(one) + gap));

  const rows: RungRow[] = [];
  let topPx = 0;
  for (let start = 0; start < named.length; start += perRow) {
    const inRow = named.slice(start, start + perRow);
    const headerPx = HEADER_PX + Math.max(...inRow.map(({ header }) => header.extraPx));
    const plotTopPx = topPx + headerPx + PLOT_PAD_PX;
    const axisTopPx = plotTopPx + (isBroken ? BREAK_PX : 0);
    const plotBottomPx = plotTopPx + plotHeightPx;
    const frame = { plotTopPx, axisTopPx, plotBottomPx, axis, gap, words };
    const placed = inRow.map((one) => toColumn(one, frame));
    rows.push({ topPx, plotTopPx, axisTopPx, plotBottomPx, columns: placed.map(({ column }) => column) });
    topPx = Math.max(plotBottomPx + PLOT_PAD_PX, ...placed.map(({ bottomPx }) => bottomPx)) + ROW_GAP_PX;
  }
  const heightPx = Math.max(1, topPx - ROW_GAP_PX + 4);
  return { widthPx, heightPx, isBroken, axis, axisWidthPx, hasNames, numberWidthPx, toleranceWidthPx, rows };
}

/** From left to right: where the parts of a column stand. */
interface ColumnPlace {
  leftPx: number;
  widthPx: number;
  /** of title, notes and marks that reach out of the field */
  noteLeftPx: number;
  /** the field in which the window and the marks stand */
  fieldLeftPx: number;
  fieldRightPx: number;
  labelLeftPx: number;
  labelRightPx: number;
}

function toPlace(
  leftPx: number,
  { columnPx, fieldPx, isAlone }: { columnPx: number; fieldPx: number; isAlone: boolean },
): ColumnPlace {
  const fieldLeftPx = leftPx + REACH_PX + 2;
  const fieldRightPx = fieldLeftPx + fieldPx;
  return {
    leftPx,
    widthPx: columnPx,
    noteLeftPx: fieldLeftPx - REACH_PX,
    fieldLeftPx,
    fieldRightPx,
    labelLeftPx: fieldRightPx + REACH_PX + LANE_PX,
    labelRightPx: leftPx + columnPx - (isAlone ? 4 : EDGE_PX),
  };
}

interface NamedCircuit {
  circuit: DrawnCircuit;
  place: ColumnPlace;
  header: CircuitHeader;
  rungs: readonly (KnownRung & { isLabelled: boolean; label: RungLabel | null; gapPx: number })[];
}

/** Where the rows of a column stand, and its scale. */
interface RowFrame {
  plotTopPx: number;
  axisTopPx: number;
  plotBottomPx: number;
  axis: RungLayout['axis'];
  gap: number;
  words: PressureLadderWords;
}

function toColumn(
  { circuit, place, header, rungs }: NamedCircuit,
  { plotTopPx, axisTopPx, plotBottomPx, axis, gap, words }: RowFrame,
): { column: RungColumn; bottomPx: number } {
  const toMarkY = (pressurePa: number): number => {
    if (axis === null) return plotBottomPx;
    return pressurePa > axis.highPa ? plotTopPx + 6 : toPosition(axis, pressurePa, plotBottomPx, axisTopPx);
  };
  const marks = rungs.map((one) => ({ ...one, markYPx: toMarkY(one.pressurePa) }));
  const labelled = marks.filter(({ isLabelled }) => isLabelled);
  const places = spreadLabels(
    labelled.map(({ markYPx }) => markYPx),
    labelled.map(({ gapPx }) => gapPx),
    plotTopPx,
    plotBottomPx - (labelled.at(-1)?.label?.extraPx ?? 0),
  );
  const placed = marks.map((mark): PlacedRung => {
    const { rung, pressurePa, markYPx, label } = mark;
    return { rung, pressurePa, markYPx, label, labelYPx: places[labelled.indexOf(mark)] ?? null };
  });
  const roomPx = place.labelRightPx - place.noteLeftPx;
  let yPx = plotBottomPx + PLOT_PAD_PX + gap / 2;
  const below = (lines: readonly string[]): NoteBelow => {
    const note = { yPx, lines };
    yPx += gap + (lines.length - 1) * LINE_PX;
    return note;
  };
  const unknown = circuit.rungs
    .filter((rung) => rung.pressurePa === null)
    .map((rung) => ({ rung, ...below(toNoteLines(`${rung.label}: ${words.notKnown}`, 'sans', roomPx)) }));
  const { lowPa, highPa } = circuit.window;
  const isTurnedOver = lowPa !== null && highPa !== null && lowPa > highPa;
  const noWindow = isTurnedOver ? below(toNoteLines(words.noWindow, 'sans-bold', roomPx)) : null;
  const column: RungColumn = { circuit, header, ...place, rungs: placed, unknown, noWindow };
  return { column, bottomPx: yPx - gap / 2 };
}

interface KnownRung {
  rung: DrawnRung;
  pressurePa: number;
}

/** The rungs that can be drawn, from the top down. */
function toKnown(rungs: readonly DrawnRung[]): KnownRung[] {
  const known: KnownRung[] = [];
  for (const rung of rungs) if (rung.pressurePa !== null) known.push({ rung, pressurePa: rung.pressurePa });
  return known.sort((a, b) => b.pressurePa - a.pressurePa || RANK.indexOf(a.rung.code) - RANK.indexOf(b.rung.code));
}

/** The pressures that the axis must hold, without ratings that lie far above all the rest. */
function toPressures(circuits: readonly DrawnCircuit[]): { pressures: number[]; isBroken: boolean } {
  const pressures: number[] = [];
  const ratings: number[] = [];
  for (const circuit of circuits) {
    for (const { code, isWeakest, pressurePa, halfWidthPa } of circuit.rungs) {
      if (pressurePa === null) continue;
      const half = halfWidthPa ?? 0;
      if (code === 'rating' && !isWeakest) ratings.push(pressurePa);
      else pressures.push(pressurePa - half, pressurePa + half);
    }
    for (const end of [circuit.window.lowPa, circuit.window.highPa]) if (end !== null) pressures.push(end);
  }
  if (pressures.length === 0) return { pressures: ratings, isBroken: false };
  const limitPa = Math.max(...pressures) * BREAK_RATIO;
  const near = ratings.filter((pressurePa) => pressurePa <= limitPa);
  return { pressures: [...pressures, ...near], isBroken: near.length < ratings.length };
}
