import { readFigure, type Inputs, type RunCalculation } from './read-figure';
import type { PlotData, PlotMark } from './plot-data';

/** Where the points of a switch may lie: the window between what is required and what the setting leaves. */
export function makeSwitchPlot(inputs: Inputs, run: RunCalculation): PlotData | null {
  const result = run('switch-window', inputs);
  if (result === null) return null;
  const given = (name: string): number => readFigure(inputs[name], 'pressure', 'bar') ?? 0;
  const readBar = (name: string): number | null => readFigure(result[name], 'pressure', 'bar');
  const [lowest, highest, rising] = [readBar('fallingLowest'), readBar('fallingHighest'), readBar('risingHighest')];
  if (lowest === null || highest === null || rising === null) return null;
  const [setting, tolerance, accuracy] = [given('setting'), given('settingTolerance'), given('switchAccuracy')];
  const recommended = readBar('recommendedFalling');
  const marks: PlotMark[] = [
    { code: 'required', axis: 'x', value: given('required') },
    ...(recommended === null ? [] : [{ code: 'recommended', axis: 'x', value: recommended } as const]),
  ];
  return {
    code: 'switch-window',
    x: { name: 'pressure', kind: 'pressure', unit: 'bar' },
    y: { name: '', kind: null, unit: null },
    series: [],
    marks,
    spans: [
      ...(highest >= lowest ? [{ code: 'window-falling', from: lowest, to: highest }] : []),
      ...(recommended === null
        ? []
        : [
            { code: 'falling-point', from: recommended - accuracy, to: recommended + accuracy },
            {
              code: 'rising-point',
              from: recommended + given('deadband') - accuracy,
              to: recommended + given('deadband') + accuracy,
            },
          ]),
      { code: 'setting', from: setting - tolerance, to: setting + tolerance },
    ],
  };
}
