import { listWholeCircuits } from '../bench/whole-circuits.mjs';
import { aRandomCircuit } from './facts-builder.js';

test('the benchmark proves circuits of the builder of these tests', async () => {
  const circuits = await listWholeCircuits(2);
  expect(circuits).toHaveLength(2);
  const seeds = Array.from({ length: 20 }, (_, seed) => JSON.stringify(aRandomCircuit(seed)));
  for (const facts of circuits) expect(seeds).toContain(JSON.stringify(facts));
});
