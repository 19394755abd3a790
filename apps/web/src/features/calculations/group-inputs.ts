import type { CalculationDescription } from '@repo/calc';

export interface InputGroup {
  /** needed; one of these; may be left out */
  code: 'needed' | 'one' | 'optional';
  names: readonly string[];
  /** of one of these: what goes together, set by set */
  sets: readonly (readonly string[])[];
}

/** Inputs by what is asked of a person: those that must be there, those of which one set must, and those with a usual value. */
export function groupInputs({
  inputs,
  alternatives,
}: Pick<CalculationDescription, 'inputs' | 'alternatives'>): InputGroup[] {
  const needed = Object.keys(inputs).filter((name) => inputs[name]?.required !== false);
  const taken = new Set(needed);
  const groups: InputGroup[] = [{ code: 'needed', names: needed, sets: [] }];
  for (const { kind, of: sets } of alternatives) {
    const names = [...new Set(sets.flat())].filter((name) => name in inputs && !taken.has(name));
    if (kind !== 'one' || names.length === 0) continue;
    for (const name of names) taken.add(name);
    groups.push({ code: 'one', names, sets });
  }
  groups.push({ code: 'optional', names: Object.keys(inputs).filter((name) => !taken.has(name)), sets: [] });
  return groups.filter(({ names }) => names.length > 0);
}
