const ROUNDS = 12;
/** The flow that a pressure drives through what loses more for each flow the more there is [m3/s]. */
export function toDrivenFlow(pressurePa: number, resistanceAt: (flowM3PerS: number) => number): number {
  let flow = pressurePa / resistanceAt(0);
  // A loss for each flow grows no faster than the flow: half way by logarithm each round comes closer to it.
  for (let round = 0; round < ROUNDS; round += 1) {
    const driven = pressurePa / resistanceAt(flow);
    if (driven === flow) break;
    flow = Math.sqrt(flow * driven);
  }
  return flow;
}
