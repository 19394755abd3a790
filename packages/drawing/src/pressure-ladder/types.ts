import type { Paint } from '../svg/paint.js';
import type { StatusShape } from '../svg/status-mark.js';

export type RungCode =
  | 'required'
  | 'reset-point'
  | 'set-point'
  | 'pump-restart'
  | 'setting'
  | 'highest-possible'
  | 'workpiece-limit'
  | 'rating';

/** One rung as it is to be drawn. Pressures are gauge [Pa]; null: not known, listed below the column and drawn nowhere. */
export interface DrawnRung {
  /** unique in its circuit and stable; it becomes `data-rung` */
  id: string;
  code: RungCode;
  pressurePa: number | null;
  /** half width of its tolerance [Pa], 0 <= halfWidthPa; null: none known */
  halfWidthPa: number | null;
  /** the name shown, already in the reader's language */
  label: string;
  /** rating: drawn heavy */
  isWeakest: boolean;
  /** the status that a check gives this rung; null or `holds`: drawn in ink */
  status: StatusShape | null;
}

export interface DrawnCircuit {
  id: string;
  title: string;
  subtitle: string | null;
  status: StatusShape;
  rungs: readonly DrawnRung[];
  /** ends of the window [Pa]; null: not known. `lowPa > highPa`: there is no window */
  window: { lowPa: number | null; highPa: number | null };
}

/** Words and numbers of the reader. The drawing has none of its own. */
export interface PressureLadderWords {
  /** the unit shown, as it stands at the axis */
  unit: string;
  /** size of that unit [Pa] */
  pascalPerUnit: number;
  /** the numbers alone, without their unit, rounded by their accuracy; `tolerance` is what stands after ± */
  format: (pressurePa: number, halfWidthPa: number | null) => { number: string; tolerance: string | null };
  notKnown: string;
  noWindow: string;
  /** name of the whole drawing */
  title: string;
  statuses: Readonly<Record<StatusShape, string>>;
}

export interface PressureLadderOptions {
  circuits: readonly DrawnCircuit[];
  words: PressureLadderWords;
  /** width to fill [px], 280 <= widthPx */
  widthPx: number;
  paint: Paint;
  /** false: a picture, with nothing to focus (print, files) */
  isInteractive: boolean;
  /** begins every id in the drawing; unique on its page */
  idPrefix: string;
  /** `auto`: names are left out beside the marks when there are more than six circuits */
  labels?: 'auto' | 'full' | 'numbers';
  selected?: { circuitId: string; rungId: string } | null;
}
