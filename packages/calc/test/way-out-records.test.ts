import { findWayOut } from '../src/way-out/find-way-out.js';
import { aRandomCircuit } from './facts-builder.js';
import { isEnough } from './followed.js';

it.each([45, 178, 222, 325])(
  'random circuit %i: all that is lacked anywhere in the ranges that are told has to be recorded',
  (seed) => {
    const facts = aRandomCircuit(seed);
    const wayOut = findWayOut(facts);
    expect(wayOut.outcome).toBe('to-record');
    expect(isEnough(facts, wayOut.changes, wayOut)).toBe(true);
  },
);
