import { fromSi, toSi, type QuantityKind } from '@repo/quantity';

/** Runs a calculation of the registry; null when it refuses its inputs. */
export type RunCalculation = (
  id: string,
  inputs: Readonly<Record<string, unknown>>,
) => Readonly<Record<string, unknown>> | null;
export type Inputs = Readonly<Record<string, unknown>>;

export function isRecord(value: unknown): value is Record<string, unknown> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

/** A figure of wire JSON in a unit; null when it is not there. */
export function readFigure(value: unknown, kind: QuantityKind | null, unit: string | null): number | null {
  if (typeof value === 'number') return value;
  if (!isRecord(value) || typeof value['value'] !== 'number' || typeof value['unit'] !== 'string') return null;
  return kind === null || unit === null
    ? value['value']
    : fromSi(toSi(value['value'], value['unit'], kind), unit, kind);
}

export function toQuantity(value: number, unit: string | null): unknown {
  return unit === null ? value : { value, unit };
}
