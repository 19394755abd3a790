import type { QuantityKind } from '@repo/quantity';

/** One axis: what it counts in, and the kind that other units of it are chosen from. Null: a plain number. */
export interface PlotAxis {
  /** a name of the registry (`temperature`), put into words by the page */
  name: string;
  kind: QuantityKind | null;
  unit: string | null;
  isLog?: boolean;
}

export type PlotPoint = readonly [x: number, y: number];

export interface PlotSeries {
  /** message `plotSeries.<code>` */
  code: string;
  look: 'line' | 'dashed' | 'dots' | 'bars';
  points: readonly PlotPoint[];
}

/** A value on one axis that the curve is read against. */
export interface PlotMark {
  /** message `plotMark.<code>` */
  code: string;
  axis: 'x' | 'y';
  value: number;
  /** which one of several alike, from 1 */
  number?: number;
}

/** From, to on the x axis, one under the other: windows and settings with their tolerances. */
export interface PlotSpan {
  /** message `plotSpan.<code>` */
  code: string;
  from: number;
  to: number;
}

export interface PlotData {
  /** message `plot.<code>` */
  code: string;
  x: PlotAxis;
  y: PlotAxis;
  series: readonly PlotSeries[];
  marks: readonly PlotMark[];
  spans: readonly PlotSpan[];
}
