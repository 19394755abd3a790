import { getTextWidth } from '../svg/text-width.js';
import { toPosition, toPressureAxis, type PressureAxis } from './axis.js';
import { spreadLabels } from './spread-labels.js';
import type { DrawnCircuit, DrawnRung, PressureLadderOptions, RungCode } from './types.js';

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

export interface RungColumn {
  circuit: DrawnCircuit;
  leftPx: number;
  widthPx: number;
  /** the field in which the window and the marks stand */
  fieldLeftPx: number;
  fieldRightPx: number;
  labelLeftPx: number;
  labelRightPx: number;
  /** from the top down */
  rungs: readonly PlacedRung[];
  unknown: readonly { rung: DrawnRung; yPx: number }[];
  noWindowYPx: number | null;
}

export interface PlacedRung {
  rung: DrawnRung;
  pressurePa: number;
  markYPx: number;
  /** centre of its label; null: the mark alone, its name is in its accessible name */
  labelYPx: number | null;
}

export const TYPE_PX = 13;
export const NUMBER_PX = 12.5;
export const SMALL_PX = 12;
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
  const plotHeightPx = Math.max(widthPx < 560 ? 340 : 420, (labelCount + 1) * gap);
  const { pressures, isBroken } = toPressures(circuits);
  const axis = pressures.length === 0 ? null : toPressureAxis(pressures, words.pascalPerUnit, plotHeightPx / 46);

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
  const columnWidthPx = Math.min(
    perRow === 1 ? COLUMN_MAX_PX.alone : COLUMN_MAX_PX.beside,
    (widthPx - axisWidthPx) / perRow,
  );

  const rows: RungRow[] = [];
  let topPx = 0;
  for (let start = 0; start < circuits.length; start += perRow) {
    const plotTopPx = topPx + HEADER_PX + PLOT_PAD_PX;
    const axisTopPx = plotTopPx + (isBroken ? BREAK_PX : 0);
    const plotBottomPx = plotTopPx + plotHeightPx;
    let bottomPx = plotBottomPx + PLOT_PAD_PX;
    const columns = circuits.slice(start, start + perRow).map((circuit, place) => {
      const leftPx = axisWidthPx + place * columnWidthPx;
      const at = {
        leftPx,
        columnPx: columnWidthPx,
        fieldPx,
        plotTopPx,
        axisTopPx,
        plotBottomPx,
        axis,
        gap,
        isLabelled,
        isAlone: perRow === 1,
      };
      const column = toColumn(circuit, known[start + place] ?? [], at);
      bottomPx = Math.max(bottomPx, column.bottomPx);
      return column.column;
    });
    rows.push({ topPx, plotTopPx, axisTopPx, plotBottomPx, columns });
    topPx = bottomPx + ROW_GAP_PX;
  }
  const heightPx = Math.max(1, topPx - ROW_GAP_PX + 4);
  return { widthPx, heightPx, isBroken, axis, axisWidthPx, hasNames, numberWidthPx, toleranceWidthPx, rows };
}

/** Where a circuit's column stands in its row, and how it is drawn. */
interface ColumnPlace {
  leftPx: number;
  columnPx: number;
  fieldPx: number;
  plotTopPx: number;
  axisTopPx: number;
  plotBottomPx: number;
  axis: RungLayout['axis'];
  gap: number;
  isLabelled: (rung: DrawnRung) => boolean;
  /** no other column stands beside it */
  isAlone: boolean;
}

function toColumn(
  circuit: DrawnCircuit,
  rungs: readonly KnownRung[],
  at: ColumnPlace,
): { column: RungColumn; bottomPx: number } {
  const { leftPx, columnPx, fieldPx, plotTopPx, axisTopPx, plotBottomPx, axis, gap, isLabelled, isAlone } = at;
  const fieldLeftPx = leftPx + REACH_PX + 2;
  const fieldRightPx = fieldLeftPx + fieldPx;
  const toMarkY = (pressurePa: number): number => {
    if (axis === null) return plotBottomPx;
    return pressurePa > axis.highPa ? plotTopPx + 6 : toPosition(axis, pressurePa, plotBottomPx, axisTopPx);
  };
  const marks = rungs.map(({ rung, pressurePa }) => ({
    rung,
    pressurePa,
    markYPx: toMarkY(pressurePa),
  }));
  const labelled = marks.filter(({ rung }) => isLabelled(rung));
  const places = spreadLabels(
    labelled.map((mark) => mark.markYPx),
    gap,
    plotTopPx,
    plotBottomPx,
  );
  const placed = marks.map((mark) => ({ ...mark, labelYPx: places[labelled.indexOf(mark)] ?? null }));
  let yPx = plotBottomPx + PLOT_PAD_PX + gap / 2;
  const unknown = circuit.rungs
    .filter((rung) => rung.pressurePa === null)
    .map((rung) => {
      const line = { rung, yPx };
      yPx += gap;
      return line;
    });
  const { lowPa, highPa } = circuit.window;
  const noWindowYPx = lowPa !== null && highPa !== null && lowPa > highPa ? yPx : null;
  if (noWindowYPx !== null) yPx += gap;
  const column: RungColumn = {
    circuit,
    leftPx,
    widthPx: columnPx,
    fieldLeftPx,
    fieldRightPx,
    labelLeftPx: fieldRightPx + REACH_PX + LANE_PX,
    labelRightPx: leftPx + columnPx - (isAlone ? 4 : EDGE_PX),
    rungs: placed,
    unknown,
    noWindowYPx,
  };
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
