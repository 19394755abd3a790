import { getKindInfo, parseQuantity, type QuantityKind } from '@repo/quantity';

interface Typed {
  text: string;
  unit: string;
}

const NUMBER = /^[+\-−]?[\d.,'’ \u00a0\u2009\u202f]+(?:[eE][+\-−]?\d{1,3})?/;

/**
 * A unit typed after the number goes to where the unit stands, so that the two never say different things: "2030 psi" beside
 * "bar" becomes "2030" beside "psi". What cannot be read, and a unit that is not offered, stay as they were typed.
 */
export function adoptTypedUnit(draft: Typed, kind: QuantityKind): Typed {
  const typed = draft.text.trim();
  const text = NUMBER.exec(typed)?.[0].trim() ?? '';
  if (text === '' || text === typed) return draft;
  const whole = parseQuantity(typed, { kind, defaultUnit: draft.unit });
  if (!whole.ok || !getKindInfo(kind).displayUnits.some(({ unit }) => unit === whole.quantity.unit)) return draft;
  const adopted = { text, unit: whole.quantity.unit };
  const read = parseQuantity(text, { kind, defaultUnit: adopted.unit });
  return read.ok && read.quantity.value === whole.quantity.value ? adopted : draft;
}
