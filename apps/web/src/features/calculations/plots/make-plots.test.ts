import { readFileSync } from 'node:fs';
import { calculate } from '@repo/calc';
import { loadSolver } from '@repo/calc/solver';
import { en } from '../../../messages/en';
import { hasPlots, makePlots } from './make-plots';
import type { RunCalculation } from './read-figure';

interface Row {
  calculation: string;
  inputs: Record<string, unknown>;
  expected?: Record<string, unknown>;
}
const file = new URL('../../../../../../packages/calc/test/data/checks.json', import.meta.url);
const { rows } = JSON.parse(readFileSync(file, 'utf8')) as { rows: Row[] };
const withPlots = rows.filter(({ calculation, expected }) => expected !== undefined && hasPlots(calculation));
const ids = [...new Set(withPlots.map(({ calculation }) => calculation))];

let run: RunCalculation;
beforeAll(async () => {
  const solver = await loadSolver();
  run = (id, inputs) => calculate(id, inputs, { solver }).result ?? null;
});

describe('plots', () => {
  it('are there for every calculation that has check values and a plot', () => {
    expect(ids.length).toBeGreaterThan(15);
  });

  it.each(ids)('of %s: finite, with words, and through the result itself', (id) => {
    // Few rows of each (cases of one load have no plot): a curve of run lengths solves a chain of states for each of its points.
    const plots = withPlots
      .filter(({ calculation }) => calculation === id)
      .slice(0, id === 'holding-force' ? 20 : 3)
      .flatMap(({ inputs }) => makePlots(id, inputs, run));
    expect(plots.length).toBeGreaterThan(0);
    for (const { code, series, marks, spans } of plots) {
      expect(en).toHaveProperty([`plot.${code}`]);
      for (const { points } of series) {
        expect(points.length).toBeGreaterThan(1);
        expect(points.flat().every(Number.isFinite)).toBe(true);
      }
      for (const mark of marks) {
        expect(Number.isFinite(mark.value)).toBe(true);
        expect(en).toHaveProperty([`plotMark.${mark.code}`]);
      }
      for (const span of spans) expect(span.to).toBeGreaterThanOrEqual(span.from);
      expect(series.length + spans.length).toBeGreaterThan(0);
    }
  });

  it('a curve holds what the calculation itself gives there', () => {
    const inputs = { grade: 46, viscosityIndex: 100, temperature: { value: 40, unit: 'Cel' } };
    const [plot] = makePlots('oil-viscosity', inputs, run);
    const points = plot?.series[0]?.points ?? [];
    // The samples stand 110/60 K apart: those around 40 °C hold 46 mm²/s between them, which is what the grade means.
    const above = points.findIndex(([celsius]) => celsius >= 40);
    expect(points[above - 1]?.[1]).toBeGreaterThan(46);
    expect(points[above]?.[1]).toBeLessThanOrEqual(46 + 1e-9);
  });

  it('shares of the spread add up to the whole', () => {
    const bar = (value: number) => ({ value, unit: 'bar' });
    const terms = [3, 4, 5].map((width) => ({ nominal: bar(0), halfWidth: bar(width) }));
    const [plot] = makePlots('tolerance-stack', { terms, limit: { upper: bar(6) } }, run);
    const sum = (plot?.series[0]?.points ?? []).reduce((total, [, share]) => total + share, 0);
    expect(sum).toBeCloseTo(1, 3);
    expect(plot?.marks).toEqual([{ code: 'limit-upper', axis: 'x', value: 6 }]);
  });

  it('a calculation without one gives none, and refused inputs give none', () => {
    expect(makePlots('hose-rating', {}, run)).toEqual([]);
    expect(makePlots('clamp-sequence', {}, run)).toEqual([]);
    expect(makePlots('line-loss', { flow: { value: 3, unit: 'L/min' } }, run)).toEqual([]);
  });
});
