import { makeHoldingPlot, makeSequencePlots } from './clamping-plots';
import { makeDriftPlot, makeTolerancePlot } from './figure-plots';
import type { PlotData, PlotPoint } from './plot-data';
import { readFigure, toQuantity, type Inputs, type RunCalculation } from './read-figure';
import { SWEEPS, type Sweep } from './sweeps';
import { makeSwitchPlot } from './window-plots';

const SAMPLES = 60;

function makeSweep(id: string, sweep: Sweep, inputs: Inputs, run: RunCalculation): PlotData | null {
  const { code, input, output, samples = SAMPLES, isTurned = false } = sweep;
  const at = readFigure(inputs[input.name], input.kind, input.unit);
  const [from, to] = sweep.range(at, (name, kind, unit) => readFigure(inputs[name], kind, unit));
  if (!(Number.isFinite(from) && Number.isFinite(to) && to > from)) return null;
  const sample = (x: number): PlotPoint | null => {
    const result = run(id, { ...inputs, [input.name]: toQuantity(x, input.unit) });
    const y = result && readFigure(result[output.name], output.kind, output.unit);
    return y === null ? null : isTurned ? [y, x] : [x, y];
  };
  const points = Array.from({ length: samples + 1 }, (_, index) => sample(from + ((to - from) * index) / samples))
    .filter((point) => point !== null)
    .sort((a, b) => a[0] - b[0]);
  if (points.length < 2) return null;
  const axes = { input: { ...input }, output: { ...output } };
  return {
    code,
    x: isTurned ? axes.output : axes.input,
    y: isTurned ? axes.input : axes.output,
    series: [{ code: 'calculated', look: 'line', points }],
    marks: at === null ? [] : [{ code: 'entered', axis: isTurned ? 'y' : 'x', value: at }],
    spans: [],
  };
}

/** What helps to see a result, from the same functions of the registry that gave it. */
export function makePlots(id: string, inputs: Inputs, run: RunCalculation): PlotData[] {
  const sweep = SWEEPS[id];
  if (sweep !== undefined) return [makeSweep(id, sweep, inputs, run)].filter((plot) => plot !== null);
  const makers: Readonly<Record<string, () => (PlotData | null)[]>> = {
    'clamp-sequence': () => makeSequencePlots(inputs, run),
    'holding-force': () => [makeHoldingPlot(inputs, run)],
    'tolerance-stack': () => [makeTolerancePlot(inputs, run)],
    'drift-crossing': () => [makeDriftPlot(inputs, run)],
    'switch-window': () => [makeSwitchPlot(inputs, run)],
  };
  return (makers[id]?.() ?? []).filter((plot) => plot !== null);
}

const WITH_PLOTS = new Set([
  ...Object.keys(SWEEPS),
  'clamp-sequence',
  'holding-force',
  'tolerance-stack',
  'drift-crossing',
  'switch-window',
]);
export const hasPlots = (id: string): boolean => WITH_PLOTS.has(id);
