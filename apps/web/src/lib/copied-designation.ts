/** Letter, circuit number and component number of an item designation such as H1.4. */
const PATTERN = /^([A-Z]*)(\d+)\.(\d+)$/;

/** The circuit number that components bear in their designations; null where they bear none, or several. */
export function readCircuitNumber(designations: readonly string[]): string | null {
  const numbers = new Set(designations.map((designation) => PATTERN.exec(designation)?.[2] ?? ''));
  const [number] = numbers;
  return numbers.size === 1 && number !== undefined && number !== '' ? number : null;
}

/** The designation of a component in a copy of its circuit: with the copy's number, or with the number after it where it bears none. */
export function toCopiedDesignation(designation: string, circuitNumber: string): string {
  const parts = PATTERN.exec(designation);
  return parts === null ? `${designation}.${circuitNumber}` : `${parts[1]}${circuitNumber}.${parts[3]}`;
}
