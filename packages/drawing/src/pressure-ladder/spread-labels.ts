/**
 * Puts labels of one column as near to their marks as they can be without touching, in the order they came.
 *
 * Least squares under `y[i+1] - y[i] >= gaps[i]`: taking the gaps before it off every wish turns it into an isotonic regression, which pooling adjacent
 * violators solves exactly (Barlow, Bartholomew, Bremner, Brunk 1972, from memory); clipping the result to the bounds keeps it optimal.
 *
 * @param wishes wished positions, ascending [px]
 * @param gaps least distance of each label to the next [px], 0 < gap; one fewer than wishes count, more are not looked at
 * @param low first position allowed [px]
 * @param high last position allowed [px]; must leave room: `high - low` is at least the sum of the gaps
 * @throws RangeError when there is no room
 */
export function spreadLabels(wishes: readonly number[], gaps: readonly number[], low: number, high: number): number[] {
  let beforePx = 0;
  const offsets = wishes.map((_, index) => (index === 0 ? 0 : (beforePx += gaps[index - 1] ?? 0)));
  const room = high - low - beforePx;
  if (wishes.length > 0 && room < -1e-6) throw new RangeError('no room for the labels');
  const blocks: { sum: number; count: number }[] = [];
  wishes.forEach((wish, index) => {
    let block = { sum: wish - (offsets[index] ?? 0), count: 1 };
    for (;;) {
      const before = blocks.at(-1);
      if (before === undefined || before.sum / before.count <= block.sum / block.count) break;
      blocks.pop();
      block = { sum: before.sum + block.sum, count: before.count + block.count };
    }
    blocks.push(block);
  });
  const positions: number[] = [];
  for (const block of blocks) {
    const mean = Math.min(low + Math.max(room, 0), Math.max(low, block.sum / block.count));
    for (let n = 0; n < block.count; n++) positions.push(mean + (offsets[positions.length] ?? 0));
  }
  return positions;
}
