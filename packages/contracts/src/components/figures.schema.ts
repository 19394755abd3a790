import { listTooLow, toWords } from '@repo/calc/figures';
import { checkUnit, type QuantityKind } from '@repo/quantity';
import { z } from 'zod';
import { quantityOf, toSiOf } from '../common/quantity.js';
import { isTiny } from '../common/sizes.js';
import { textOf } from '../common/texts.js';
import { figureOf, figuresOf, type ComponentKind } from './component-kinds.js';

/** A figure as typed, with where it comes from. A plain number has unit `1`. */
export const figureInSchema = z.strictObject({
  value: z.number(),
  unit: z.string().min(1).max(40),
  digits: z.int().min(0).max(15).optional(),
  source: textOf(400).min(1),
});
export const figureOutSchema = z
  .object({ value: z.number(), unit: z.string(), digits: z.int().optional(), source: z.string() })
  .meta({ id: 'Figure' });
export type FigureIn = z.infer<typeof figureInSchema>;

export const figuresInSchema = z.record(z.string().max(60), figureInSchema);
export const figuresOutSchema = z.record(z.string(), figureOutSchema);

type Report = (issue: { path: (string | number)[]; message: string }) => void;

/** In SI, of one that may be typed so; null: it may not, or there is none. */
function toSiOrNull(figure: FigureIn | undefined, kind: QuantityKind | 'ratio'): number | null {
  if (figure === undefined || kind === 'ratio') return figure?.value ?? null;
  return checkUnit(figure.unit, kind) === null ? toSiOf(figure, kind) : null;
}

/**
 * Every figure is one that this kind of component has, in a unit of its kind, and one that it can have beside its others.
 * @param types figures of its type, where these are those of a component: they count where it has none of its own
 */
export function checkFigures(
  figures: Record<string, FigureIn>,
  kind: ComponentKind,
  report: Report,
  types: Record<string, FigureIn> = {},
): void {
  for (const [name, figure] of Object.entries(figures)) {
    const rule = figureOf(kind, name);
    if (rule === undefined) {
      report({ path: ['figures', name], message: `a figure that a ${kind} has` });
    } else if (rule.kind === 'ratio') {
      const { value, unit } = figure;
      if (unit !== '1') report({ path: ['figures', name, 'unit'], message: '1: a plain number' });
      if (value < 0 || value > 1e6 || isTiny(value))
        report({ path: ['figures', name, 'value'], message: 'zero or more' });
      else if (value > (rule.most ?? 1e6))
        report({ path: ['figures', name, 'value'], message: `at most ${rule.most}` });
    } else {
      const { value, unit } = figure;
      const parsed = quantityOf(rule.kind, { zero: true }).safeParse({ value, unit });
      for (const issue of parsed.error?.issues ?? []) {
        report({ path: ['figures', name, ...issue.path.map((part) => String(part))], message: issue.message });
      }
    }
  }
  const all = { ...types, ...figures };
  const siOf = (name: string): number | null => {
    const rule = figureOf(kind, name);
    return rule === undefined ? null : toSiOrNull(all[name], rule.kind);
  };
  for (const { figure, other, mayEqual } of listTooLow(figuresOf(kind), siOf)) {
    // Of two that do not go together one at least is new.
    if (!(figure in figures) && !(other in figures)) continue;
    report({
      path: ['figures', figure, 'value'],
      message: `${mayEqual ? 'at least' : 'more than'} its ${toWords(other)}`,
    });
  }
}
