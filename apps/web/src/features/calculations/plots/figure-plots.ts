import { isRecord, readFigure, toQuantity, type Inputs, type RunCalculation } from './read-figure';
import type { PlotData, PlotMark, PlotPoint } from './plot-data';

const unitOf = (value: unknown): string | null =>
  isRecord(value) && typeof value['unit'] === 'string' ? value['unit'] : null;

const BINS = 24;

/** How the sum is spread: the share that falls into each of equal parts between the worst cases. */
export function makeTolerancePlot(inputs: Inputs, run: RunCalculation): PlotData | null {
  const whole = run('tolerance-stack', inputs);
  if (whole === null) return null;
  const unit = unitOf(whole['nominal']);
  const nominal = readFigure(whole['nominal'], null, null);
  const worst = readFigure(whole['worstCase'], null, null);
  if (nominal === null || worst === null || worst === 0) return null;
  const below = (upper: number): number | null =>
    readFigure(
      run('tolerance-stack', { ...inputs, limit: { upper: toQuantity(upper, unit) } })?.['probability'],
      null,
      null,
    );
  const width = (2 * worst) / BINS;
  const points: PlotPoint[] = [];
  let before = 0;
  for (let bin = 0; bin < BINS; bin += 1) {
    const share = below(nominal - worst + width * (bin + 1));
    if (share === null) return null;
    points.push([nominal - worst + width * (bin + 0.5), Math.max(0, share - before)]);
    before = share;
  }
  const limit = isRecord(inputs['limit']) ? inputs['limit'] : {};
  const marks = (['lower', 'upper'] as const).flatMap((end): PlotMark[] => {
    // In another unit than the terms: the page's own axis would not fit it.
    const value = unitOf(limit[end]) === unit ? readFigure(limit[end], null, null) : null;
    return value === null ? [] : [{ code: `limit-${end}`, axis: 'x', value }];
  });
  return {
    code: 'spread-of-sum',
    x: { name: 'sum', kind: null, unit },
    y: { name: 'share', kind: null, unit: null },
    series: [{ code: 'calculated', look: 'bars', points }],
    marks,
    spans: [],
  };
}

/** The readings, the line through them and the threshold that it crosses. */
export function makeDriftPlot(inputs: Inputs, run: RunCalculation): PlotData | null {
  const result = run('drift-crossing', inputs);
  const { series, threshold } = inputs;
  if (result === null || !Array.isArray(series)) return null;
  const readings: readonly unknown[] = series;
  const first = readings.find(isRecord);
  const valueUnit = unitOf(first?.['value']);
  const isTimed = unitOf(first?.['time']) !== null;
  const toDays = (value: unknown): number | null =>
    isTimed ? readFigure(value, 'time', 'd') : readFigure(value, null, null);
  const points = readings.flatMap((entry): PlotPoint[] => {
    if (!isRecord(entry) || unitOf(entry['value']) !== valueUnit) return [];
    const [time, value] = [toDays(entry['time']), readFigure(entry['value'], null, null)];
    return time === null || value === null ? [] : [[time, value]];
  });
  const slope = readFigure(result['slope'], null, null);
  const intercept = readFigure(result['intercept'], null, null);
  if (points.length < 2 || slope === null || intercept === null) return null;
  const crossing = readFigure(result['crossingTime'], null, null);
  const times = [...points.map(([time]) => time), ...(crossing === null ? [] : [crossing])];
  const ends = [Math.min(...times), Math.max(...times)];
  const crossings = (['crossingEarliest', 'crossingTime', 'crossingLatest'] as const).flatMap((name): PlotMark[] => {
    const value = readFigure(result[name], null, null);
    return value === null || value > 3 * Number(ends[1]) ? [] : [{ code: name, axis: 'x', value }];
  });
  const level = unitOf(threshold) === valueUnit ? readFigure(threshold, null, null) : null;
  return {
    code: 'drift',
    x: { name: 'time', kind: isTimed ? 'time' : null, unit: isTimed ? 'd' : null },
    y: { name: 'value', kind: null, unit: valueUnit },
    series: [
      { code: 'readings', look: 'dots', points },
      { code: 'robust-line', look: 'line', points: ends.map((time): PlotPoint => [time, intercept + slope * time]) },
    ],
    marks: [...(level === null ? [] : [{ code: 'threshold', axis: 'y', value: level } as const]), ...crossings],
    spans: [],
  };
}
