import { findWayOut } from '../src/way-out/find-way-out.js';
import { aRandomCircuit } from './facts-builder.js';
import { listRight } from './set-together.js';

it.each([93, 129, 160, 161])('random circuit %i: what is in the way is right at no setting together', (seed) => {
  const facts = aRandomCircuit(seed);
  const wayOut = findWayOut(facts);
  expect(wayOut).toMatchObject({ outcome: 'none', changes: [] });
  expect(wayOut.bounds.length).toBeGreaterThan(1);
  expect(listRight(facts, wayOut)).toEqual([]);
});
