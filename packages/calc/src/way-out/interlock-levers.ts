import type { CircuitFacts } from '../circuit-facts/circuit-facts.types.js';
import { BEST_REACTIONS } from '../interlock/interlock-proof.js';
import type { FigureRef } from '../pressure-ladder/pressure-ladder.types.js';
import { toLever, type Lever } from './levers.js';

/** Reactions of the control that are not the best that it can have, and codes that do not wait: each of them can be changed. */
export function listInterlockLevers({ circuit, control }: CircuitFacts): Lever[] {
  const { machine, circuits, mCodes } = control;
  const ref: FigureRef = { entity: 'machine', id: machine.id, name: machine.name };
  const stationId = circuits.find(({ id }) => id === circuit.id)?.stationId;
  const reactions = Object.entries(BEST_REACTIONS)
    .map(([field, best]) => ({ field, best, is: machine.behaviour[field as keyof typeof BEST_REACTIONS] ?? null }))
    .filter(({ best, is }) => is !== null && is !== best)
    .map(({ field, best }) => toLever('reaction', { holder: 'behaviour', field, ref, choice: String(best) }));
  const codes = mCodes
    .filter((code) => code.stationId === stationId && code.waitsForAnswer === false && code.action !== 'other')
    .map(({ id, code }) =>
      toLever('code-waits', {
        holder: 'm-code',
        id,
        field: 'waitsForAnswer',
        ref: { entity: 'm-code', id, name: code },
      }),
    );
  return [...reactions, ...codes];
}
