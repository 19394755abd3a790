'use client';

import { fromSi, parseQuantity, toSi, type QuantityKind } from '@repo/quantity';
import { TextField } from '@/ui/field';
import { readBadly, readWell, type FieldDef } from './field-def';
import { about, asTyped, type About } from './fields';

/** In which a plain number is kept, where it has a unit: as that it may be typed as well, or as another one of its kind. */
const UNITS_OF_NUMBERS = {
  V: { kind: 'voltage', unit: 'V' },
  W: { kind: 'power', unit: 'W' },
  A: { kind: 'current', unit: 'A' },
  min: { kind: 'time', unit: 'min' },
  h: { kind: 'time', unit: 'h' },
  share: { kind: 'ratio', unit: '1' },
  'per-cent': { kind: 'ratio', unit: '%' },
} as const satisfies Record<string, { kind: QuantityKind; unit: string }>;
type UnitOfNumber = keyof typeof UNITS_OF_NUMBERS;

/** A figure that is a number of a unit ends its name with it. */
export function unitOfNumber(name: string): UnitOfNumber | undefined {
  if (/(Ratio|Fraction|Coefficient)$/.test(name)) return 'share';
  return (['V', 'W', 'A'] as const).find((unit) => new RegExp(`[a-z]${unit}$`).test(name));
}

function readNumber(typed: string, typedIn: UnitOfNumber | undefined): number {
  const value = Number(typed.replace(',', '.'));
  if (Number.isFinite(value) || typedIn === undefined) return value;
  const { kind, unit } = UNITS_OF_NUMBERS[typedIn];
  const reading = parseQuantity(typed, { kind, defaultUnit: unit });
  if (!reading.ok) return NaN;
  return Number(fromSi(toSi(reading.quantity.value, reading.quantity.unit, kind), unit, kind).toPrecision(12));
}

/** A plain number; a comma is a decimal sign. */
export function number(
  options: About & { isInteger?: boolean; least?: number; most?: number; typedIn?: UnitOfNumber | undefined },
): FieldDef<string, number | null> {
  return {
    ...about(options),
    toDraft: (value) => (value === null ? '' : String(value)),
    read: (draft) => {
      const typed = draft.trim();
      if (typed === '') return options.isRequired === true ? readBadly('missing') : readWell(null);
      const value = readNumber(typed, options.typedIn);
      if (!Number.isFinite(value)) return readBadly('not-a-plain-number');
      if (options.isInteger === true && !Number.isInteger(value)) return readBadly('not-whole');
      if (value < (options.least ?? -Infinity)) return readBadly('too-small');
      return value > (options.most ?? Infinity) ? readBadly('too-large') : readWell(value);
    },
    toText: asTyped,
    render: ({ draft, errorOf: _errorOf, ...rest }) => (
      <TextField
        {...rest}
        inputMode={options.isInteger === true ? 'numeric' : 'decimal'}
        autoComplete="off"
        value={draft}
      />
    ),
  };
}
