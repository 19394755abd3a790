'use client';

import { COMPONENT_FIGURES, figureKindOf, type ComponentKind } from '@repo/contracts';
import type { QuantityKind } from '@repo/quantity';
import { useTranslate } from '@/lib/i18n/i18n';

/** Kind of a figure; a plain number is a ratio. */
export const toFigureKind = (kind: ComponentKind, figure: string): QuantityKind =>
  figureKindOf(kind, figure) ?? 'ratio';

export const listFigures = (kind: ComponentKind): string[] => Object.keys(COMPONENT_FIGURES[kind]);

/** `ratedPressure` → "Rated pressure". */
export function useFigureLabel(): (name: string) => string {
  const t = useTranslate();
  return (name) => t.find(`componentFigure.${name}`) ?? name;
}
