/** Circuit number and component number of an item designation such as H1.4. */
const PATTERN = /^([A-Z]*)(\d+)\.(\d+)$/;

interface Placed {
  designation: string;
  placeId: string;
}

/**
 * The next free item designation at a place: letter of the medium (H: hydraulic), number of the circuit, a point, number of
 * the component (ISO 1219-2:2012, from memory). Components that are there already give letter and circuit
 * number; an empty place takes the first circuit number from `fallbackNumber` on that nobody else has.
 */
export function suggestDesignation(components: readonly Placed[], placeId: string, fallbackNumber: number): string {
  const read = components.flatMap((component) => {
    const parts = PATTERN.exec(component.designation);
    if (parts === null) return [];
    const [, medium = 'H', circuit = '0', item = '0'] = parts;
    return [{ placeId: component.placeId, medium, circuit: Number(circuit), item: Number(item) }];
  });
  const here = read.filter((one) => one.placeId === placeId);
  const first = here[0];
  let circuit = first?.circuit ?? fallbackNumber;
  if (first === undefined) while (read.some((one) => one.circuit === circuit)) circuit += 1;
  const medium = first?.medium ?? 'H';
  const used = read.filter((one) => one.medium === medium && one.circuit === circuit).map((one) => one.item);
  return `${medium}${circuit}.${Math.max(0, ...used) + 1}`;
}
