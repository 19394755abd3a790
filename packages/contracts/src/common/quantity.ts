import { checkUnit, fromSi, toSi, type QuantityKind } from '@repo/quantity';
import { z } from 'zod';
import { isPossibleSize } from './sizes.js';

export interface WireQuantity {
  value: number;
  unit: string;
  digits?: number | undefined;
}

export interface QuantityRule {
  /** zero is allowed (default false) */
  zero?: boolean;
  /** below zero is allowed (default false) */
  negative?: boolean;
  /** the least and the most that it can be [SI] */
  within?: readonly [least: number, most: number] | undefined;
}

/** A quantity as typed: number, UCUM unit, digits after the decimal point. Any unit of the kind is taken. */
export function quantityOf(kind: QuantityKind, rule: QuantityRule = {}) {
  return z
    .strictObject({
      value: z.number(),
      unit: z.string().min(1).max(40),
      digits: z.int().min(0).max(15).optional(),
    })
    .superRefine((quantity, context) => {
      if (checkUnit(quantity.unit, kind) !== null) {
        context.addIssue({ code: 'custom', path: ['unit'], message: `a unit of ${kind}`, params: { code: 'unit' } });
        return;
      }
      const si = toSi(quantity.value, quantity.unit, kind);
      const isBelowAbsoluteZero = kind === 'temperature' && si < 0;
      if (isBelowAbsoluteZero || !isPossibleSize(si, kind)) {
        context.addIssue({ code: 'custom', path: ['value'], message: 'a size that can be', params: { code: 'size' } });
      } else if (kind !== 'temperature' && rule.negative !== true && si < 0) {
        context.addIssue({ code: 'custom', path: ['value'], message: 'zero or more', params: { code: 'negative' } });
      } else if (kind !== 'temperature' && rule.negative !== true && rule.zero !== true && si === 0) {
        context.addIssue({ code: 'custom', path: ['value'], message: 'more than zero', params: { code: 'zero' } });
      } else if (rule.within !== undefined && (si < rule.within[0] || si > rule.within[1])) {
        const [least, most] = rule.within.map((end) => Number(fromSi(end, quantity.unit, kind).toPrecision(6)));
        const message = `${least} to ${most} ${quantity.unit}`;
        context.addIssue({ code: 'custom', path: ['value'], message, params: { code: 'size' } });
      }
    })
    .meta({ description: `${kind}; UCUM unit; pressures are gauge`, 'x-quantity-kind': kind });
}

/** What comes out: the quantity as it was entered. */
export const quantityOutSchema = z
  .object({ value: z.number(), unit: z.string(), digits: z.int().optional() })
  .meta({ id: 'Quantity', description: 'number and UCUM unit as entered; digits after the decimal point' });

/** SI value of a quantity that the schema has let through. */
export const toSiOf = (quantity: WireQuantity, kind: QuantityKind): number => toSi(quantity.value, quantity.unit, kind);
