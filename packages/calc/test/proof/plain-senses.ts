import type { CircuitFacts } from '../../src/index.js';
import { isBehindCheck, isIn, isShutByValve } from './plain-shut-in.js';

/**
 * A switch tells of the clamps where it sits in their line: at the clamps, or at the manifold where nothing shuts the clamps off beyond. At the
 * pump, or in another line, it is made without them. `null`: it is not known where it senses, or what holds the oil that can be shut in.
 */
export function seesClamps(facts: CircuitFacts): boolean | null {
  const { isCheckHeld } = facts.circuit;
  const byValve = isShutByValve(facts);
  const isShut = isBehindCheck(facts) || byValve === true;
  const isOpen = isCheckHeld === false && byValve === false;
  const all = facts.components.filter(({ kind }) => kind === 'pressure-switch');
  const inCircuit = all.filter(({ place }) => place === 'circuit');
  const heard = inCircuit.length > 0 ? inCircuit : all;
  let answer: boolean | null = heard.length === 0 ? null : true;
  const valves = facts.components.filter(({ kind, place }) => kind === 'check-valve' && place === 'circuit');
  const isOnlyInSupply = valves.some(({ lineFunctions }) => lineFunctions.includes('supply'));
  // A reducing valve or a coupling of that line has one pressure before it and another behind; a pallet has one that leaves its supply.
  const isParted = facts.components.some(
    (one) =>
      ['reducing-valve', 'sequence-valve', 'quick-coupling'].includes(one.kind) &&
      one.place === 'circuit' &&
      isIn(one, 'clamp'),
  );
  const isOneLine = !isParted && facts.circuit.isDecoupled === false;
  const isOpenLine =
    isOneLine && !valves.some((one) => isIn(one, 'clamp')) && (isCheckHeld === false || isOnlyInSupply);
  for (const { sensing, lineFunctions, isBeyondShutOff } of heard) {
    if (sensing === 'pump' || (lineFunctions.length > 0 && !lineFunctions.includes('clamp'))) return false;
    if (sensing === null) {
      answer = null;
      continue;
    }
    const isSaidBefore = isBeyondShutOff === false;
    if (sensing === 'clamp-line') {
      // In the line it may stand before what parts it, or beyond.
      if (isOpenLine || isBeyondShutOff === true) continue;
      if (isSaidBefore) return false;
      answer = null;
      continue;
    }
    if (isShut && sensing === 'manifold') return false;
    if (isShut || !isOpen || lineFunctions.length === 0 || lineFunctions.some((line) => line !== 'clamp'))
      answer = null;
    else if (!isOpenLine && isSaidBefore) return false;
    else if (!isOpenLine && isBeyondShutOff !== true) answer = null;
  }
  return answer;
}
