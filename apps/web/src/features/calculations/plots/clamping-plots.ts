import { isRecord, readFigure, type Inputs, type RunCalculation } from './read-figure';
import type { PlotData, PlotMark, PlotPoint } from './plot-data';

function toNumbers(quantity: unknown): (number | null)[] {
  const values = isRecord(quantity) ? quantity['value'] : null;
  return Array.isArray(values) ? values.map((value) => (typeof value === 'number' ? value : null)) : [];
}

/** Points of a transient, thinned: no screen shows more, and first and last stay. */
function thin(points: readonly PlotPoint[], most = 400): PlotPoint[] {
  const every = Math.ceil(points.length / most);
  return points.filter((_, index) => index % every === 0 || index === points.length - 1);
}

function makeTransient(inputs: Inputs, run: RunCalculation): PlotData | null {
  const result = run('clamp-sequence', inputs);
  const series = result?.['series'];
  if (result === null || !isRecord(series)) return null;
  const times = toNumbers(series['t']);
  const pressures = toNumbers(series['p']);
  const points = times.map((time, index): PlotPoint => [Number(time), Number(pressures[index])]);
  if (points.length < 2) return null;
  const contacts = toNumbers(result['contacts']);
  const setPoint = readFigure(inputs['switchRising'], 'pressure', 'bar');
  const makes = readFigure(result['timeToSwitch'], 'time', 's');
  const marks: PlotMark[] = [
    ...(setPoint === null ? [] : [{ code: 'set-point', axis: 'y', value: setPoint } as const]),
    ...contacts.flatMap((time, index): PlotMark[] =>
      time === null ? [] : [{ code: 'contact', axis: 'x', value: time, number: index + 1 }],
    ),
    ...(makes === null ? [] : [{ code: 'switch-makes', axis: 'x', value: makes } as const]),
  ];
  return {
    code: 'clamping-transient',
    x: { name: 'time', kind: 'time', unit: 's' },
    y: { name: 'pressure', kind: 'pressure', unit: 'bar' },
    series: [{ code: 'calculated', look: 'line', points: thin(points) }],
    marks,
    spans: [],
  };
}

/** Loss of the supply at a flow, from what was entered: a resistance, or a line and the oil. */
function toLoss(inputs: Inputs, run: RunCalculation): ((flow: number) => number | null) | null {
  const resistance = inputs['supplyResistance'];
  if (isRecord(resistance) && resistance['unit'] === 'bar.min/L' && typeof resistance['value'] === 'number') {
    const barPerFlow = resistance['value'];
    return (flow) => barPerFlow * flow;
  }
  const { supplyLine: line, oil } = inputs;
  if (!isRecord(line) || !isRecord(oil)) return null;
  return (flow) =>
    flow === 0
      ? 0
      : readFigure(
          run('line-loss', {
            ...line,
            flow: { value: flow, unit: 'L/min' },
            kinematicViscosity: oil['kinematicViscosity'],
            density: oil['density'],
          })?.['pressureLoss'],
          'pressure',
          'bar',
        );
}

/** What the pump gives at its own end, and what of it arrives at the manifold. */
function makePumpCurve(inputs: Inputs, run: RunCalculation): PlotData | null {
  const { pump } = inputs;
  if (!isRecord(pump)) return null;
  const stall = readFigure(pump['stallPressure'], 'pressure', 'bar');
  const loss = toLoss(inputs, run);
  if (stall === null || loss === null) return null;
  const atPump: PlotPoint[] = [];
  const atManifold: PlotPoint[] = [];
  for (let step = 0; step <= 40; step += 1) {
    const pressure = { value: (stall * step) / 40, unit: 'bar' };
    // A pump of ratio one driven with its own stall pressure is that pump.
    const at = { pistonRatio: 1, airPressure: { value: stall, unit: 'bar' }, freeFlow: pump['freeFlow'], pressure };
    const flow = readFigure(run('air-driven-pump', at)?.['flow'], 'flow', 'L/min');
    if (flow === null) return null;
    atPump.push([pressure.value, flow]);
    const left = pressure.value - (loss(flow) ?? Infinity);
    if (left >= 0) atManifold.push([left, flow]);
  }
  const setPoint = readFigure(inputs['switchRising'], 'pressure', 'bar');
  return {
    code: 'pump-curve-with-loss',
    x: { name: 'pressure', kind: 'pressure', unit: 'bar' },
    y: { name: 'flow', kind: 'flow', unit: 'L/min' },
    series: [
      { code: 'at-pump', look: 'dashed', points: atPump },
      { code: 'at-manifold', look: 'line', points: atManifold },
    ],
    marks: setPoint === null ? [] : [{ code: 'set-point', axis: 'x', value: setPoint }],
    spans: [],
  };
}

export function makeSequencePlots(inputs: Inputs, run: RunCalculation): (PlotData | null)[] {
  return [makeTransient(inputs, run), makePumpCurve(inputs, run)];
}

/** What each load case asks for alone, against the clamps as they are. */
export function makeHoldingPlot(inputs: Inputs, run: RunCalculation): PlotData | null {
  // The plot needs the cases only, not the search for a better fixture.
  const result = run('holding-force', { ...inputs, forceStep: 0, frictionStep: 0, shift: undefined });
  const scales = result?.['caseScales'];
  if (!Array.isArray(scales)) return null;
  const points = scales.flatMap((scale: unknown, index): PlotPoint[] =>
    typeof scale === 'number' ? [[index, scale]] : [],
  );
  if (points.length < 2) return null;
  return {
    code: 'factor-by-case',
    x: { name: 'case', kind: null, unit: null },
    y: { name: 'scale', kind: null, unit: null },
    series: [{ code: 'calculated', look: 'bars', points }],
    marks: [{ code: 'clamps-as-entered', axis: 'y', value: 1 }],
    spans: [],
  };
}
