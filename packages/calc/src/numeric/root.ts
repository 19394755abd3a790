/** The root of a function that changes sign between the ends, by bisection down to the last bits. */
export function findRoot(f: (x: number) => number, from: number, to: number): number {
  let low = from;
  let high = to;
  const isRising = f(high) > 0;
  for (let step = 0; step < 200; step += 1) {
    const middle = (low + high) / 2;
    if (middle === low || middle === high) break;
    if (f(middle) > 0 === isRising) high = middle;
    else low = middle;
  }
  return (low + high) / 2;
}
