/**
 * Puts labels of one column as near to their marks as they can be without touching, in the order they came.
 *
 * Least squares under `y[i+1] - y[i] >= gap`: taking `i × gap` off every wish turns it into an isotonic regression, which pooling adjacent
 * violators solves exactly (Barlow, Bartholomew, Bremner, Brunk 1972, from memory); clipping the result to the bounds keeps it optimal.
 *
 * @param wishes wished positions, ascending [px]
 * @param gap least distance of neighbours [px], 0 < gap
 * @param low first position allowed [px]
 * @param high last position allowed [px]; must leave room: `high - low >= (n - 1) × gap`
 * @throws RangeError when there is no room
 */
export function spreadLabels(wishes: readonly number[], gap: number, low: number, high: number): number[] {
  const room = high - low - (wishes.length - 1) * gap;
  if (wishes.length > 0 && room < -1e-6) throw new RangeError('labels need more room than the column has');
  const blocks: { sum: number; count: number }[] = [];
  wishes.forEach((wish, index) => {
    let block = { sum: wish - index * gap, count: 1 };
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
    for (let n = 0; n < block.count; n++) positions.push(mean + positions.length * gap);
  }
  return positions;
}
