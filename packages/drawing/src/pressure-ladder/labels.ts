import { getTextWidth, toWrapped } from '../svg/text-width.js';
import type { DrawnCircuit, DrawnRung, PressureLadderWords } from './types.js';

/** Words of a drawing over as many lines as they need: what is cut could be what tells one name from another. */

export const TYPE_PX = 13;
export const SMALL_PX = 12;
export const TITLE_PX = 14;
/** From one line of a text to its next. */
export const LINE_PX = 16;
export const TITLE_LINE_PX = 18;
/** Room of a status mark with the gap behind it. */
export const MARK_PX = 19;
/** Beside less than this a name would go letter by letter. */
const BESIDE_LEAST_PX = 52;

export interface RungLabel {
  lines: readonly string[];
  /** where its lines begin */
  leftPx: number;
  /** true: below its number, which then stands alone on the first line */
  isBelow: boolean;
  isStrong: boolean;
  /** how far it reaches below a label of one line */
  extraPx: number;
}

export interface CircuitHeader {
  title: readonly string[];
  subtitle: readonly string[];
  extraPx: number;
}

/** Whether a check speaks of this rung: its mark stands before its name. */
export const isTold = ({ status }: DrawnRung): boolean => status !== null && status !== 'holds';

/** The name of a rung: beside its number where it fits, else where it needs fewer lines; null where it may only stand beside and cannot. */
export function toRungLabel(
  rung: DrawnRung,
  at: { labelLeftPx: number; besidePx: number; labelRightPx: number; mayGoBelow: boolean },
): RungLabel | null {
  const { labelLeftPx, labelRightPx, mayGoBelow } = at;
  const isStrong = isTold(rung) || rung.isWeakest || rung.code === 'required' || rung.code === 'setting';
  const besidePx = at.besidePx + (isTold(rung) ? MARK_PX : 0);
  const wrap = (fromPx: number): string[] =>
    toWrapped(rung.label, isStrong ? 'sans-bold' : 'sans', TYPE_PX, labelRightPx - fromPx);
  const beside = labelRightPx - besidePx < BESIDE_LEAST_PX ? null : wrap(besidePx);
  if (beside === null && !mayGoBelow) return null;
  const below = mayGoBelow ? wrap(labelLeftPx) : null;
  if (beside !== null && beside.length - 1 <= (below?.length ?? Infinity)) {
    const extraPx = (beside.length - 1) * LINE_PX;
    return { lines: beside, leftPx: besidePx, isBelow: false, isStrong, extraPx };
  }
  const lines = below ?? [];
  return { lines, leftPx: labelLeftPx, isBelow: true, isStrong, extraPx: lines.length * LINE_PX };
}

/** What stands above the column of a circuit: its title with its status beside, what it belongs to below. */
export function toCircuitHeader(circuit: DrawnCircuit, words: PressureLadderWords, roomPx: number): CircuitHeader {
  const statusPx = getTextWidth(words.statuses[circuit.status], 'sans', SMALL_PX) + 18;
  const title = toWrapped(circuit.title, 'sans-bold', TITLE_PX, roomPx - statusPx - 12);
  const subtitle = toWrapped(circuit.subtitle ?? '', 'sans', SMALL_PX, roomPx);
  return { title, subtitle, extraPx: (title.length - 1) * TITLE_LINE_PX + (subtitle.length - 1) * LINE_PX };
}

/** Lines below a column, behind a status mark. */
export const toNoteLines = (text: string, face: 'sans' | 'sans-bold', roomPx: number): string[] =>
  toWrapped(text, face, TYPE_PX, roomPx - MARK_PX - 1);
