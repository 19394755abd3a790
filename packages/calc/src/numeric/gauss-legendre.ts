/** Nodes and weights of the n-point Gauss–Legendre rule on [−1, 1], by Newton's method on the Legendre polynomial. */
export function gaussLegendre(n: number): { nodes: Float64Array; weights: Float64Array } {
  const nodes = new Float64Array(n);
  const weights = new Float64Array(n);
  for (let i = 0; i < Math.ceil(n / 2); i += 1) {
    let x = Math.cos((Math.PI * (i + 0.75)) / (n + 0.5));
    let slope = 1;
    for (let step = 0; step < 50; step += 1) {
      let previous = 1;
      let value = x;
      for (let k = 2; k <= n; k += 1) [previous, value] = [value, ((2 * k - 1) * x * value - (k - 1) * previous) / k];
      slope = (n * (x * value - previous)) / (x * x - 1);
      const change = value / slope;
      x -= change;
      if (Math.abs(change) < 1e-15) break;
    }
    // The middle node of an odd rule is zero exactly.
    const node = 2 * i + 1 === n ? 0 : x;
    const weight = 2 / ((1 - x * x) * slope * slope);
    nodes[i] = -node;
    nodes[n - 1 - i] = node;
    weights[i] = weight;
    weights[n - 1 - i] = weight;
  }
  return { nodes, weights };
}
