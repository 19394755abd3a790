/**
 * Mean number of steps until a Markov chain leaves, by state reduction (Grassmann, Taksar & Heyman 1985): no
 * subtraction, so that even run lengths of 1e15 keep their digits. The diagonal is not read: what stays is what is left.
 *
 * `rates` is row-major n × n and is used up; `exits` holds each state's probability to leave. States are removed from
 * the last to the first but for `start`. `reach`: row i holds nothing left of i − reach but in column `start`.
 */
export function meanAbsorptionTime(rates: Float64Array, exits: Float64Array, start: number, reach: number): number {
  const n = exits.length;
  const times = new Float64Array(n).fill(1);
  for (let s = n - 1; s >= 0; s -= 1) {
    if (s === start) continue;
    const from = Math.max(0, s - reach);
    const row = s * n;
    let out = exits[s] as number;
    for (let j = from; j < s; j += 1) out += rates[row + j] as number;
    if (start > s || start < from) out += rates[row + start] as number;
    for (let i = 0; i < n; i += 1) {
      if (i >= s && i !== start) continue;
      const inflow = rates[i * n + s] as number;
      if (inflow === 0) continue;
      if (out === 0) {
        // Whoever comes here stays.
        times[i] = Infinity;
        continue;
      }
      const share = inflow / out;
      const target = i * n;
      for (let j = from; j < s; j += 1)
        rates[target + j] = (rates[target + j] as number) + share * (rates[row + j] as number);
      if (start > s || start < from)
        rates[target + start] = (rates[target + start] as number) + share * (rates[row + start] as number);
      exits[i] = (exits[i] as number) + share * (exits[s] as number);
      times[i] = (times[i] as number) + share * (times[s] as number);
    }
  }
  return (times[start] as number) / (exits[start] as number);
}
