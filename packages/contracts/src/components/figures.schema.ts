import { z } from 'zod';
import { quantityOf } from '../common/quantity.js';
import { figureKindOf, type ComponentKind } from './component-kinds.js';

/** A figure as typed, with where it comes from. A plain number has unit `1`. */
export const figureInSchema = z.strictObject({
  value: z.number(),
  unit: z.string().min(1).max(40),
  digits: z.int().min(0).max(15).optional(),
  source: z.string().trim().min(1).max(400),
});
export const figureOutSchema = z
  .object({ value: z.number(), unit: z.string(), digits: z.int().optional(), source: z.string() })
  .meta({ id: 'Figure' });
export type FigureIn = z.infer<typeof figureInSchema>;

export const figuresInSchema = z.record(z.string().max(60), figureInSchema);
export const figuresOutSchema = z.record(z.string(), figureOutSchema);

/** Every figure is one that this kind of component has, in a unit of its kind. */
export function checkFigures(
  figures: Record<string, FigureIn>,
  kind: ComponentKind,
  report: (issue: { path: (string | number)[]; message: string }) => void,
): void {
  for (const [name, figure] of Object.entries(figures)) {
    const figureKind = figureKindOf(kind, name);
    if (figureKind === undefined) {
      report({ path: ['figures', name], message: `a figure that a ${kind} has` });
    } else if (figureKind === 'ratio') {
      if (figure.unit !== '1') report({ path: ['figures', name, 'unit'], message: '1: a plain number' });
      if (figure.value < 0 || figure.value > 1e6) report({ path: ['figures', name, 'value'], message: 'zero or more' });
    } else {
      const { value, unit } = figure;
      const parsed = quantityOf(figureKind, { zero: true }).safeParse({ value, unit });
      for (const issue of parsed.error?.issues ?? []) {
        report({ path: ['figures', name, ...issue.path.map((part) => String(part))], message: issue.message });
      }
    }
  }
}
