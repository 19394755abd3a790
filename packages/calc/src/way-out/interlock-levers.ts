import type { CircuitFacts } from '../circuit-facts/circuit-facts.types.js';
import { BEST_REACTIONS } from '../interlock/interlock-proof.js';
import type { FigureRef } from '../pressure-ladder/pressure-ladder.types.js';
import { asRead } from '../circuit-facts/control-input.js';
import { toLever, type Lever } from './levers.js';

/** A name that nothing on the machine has yet. */
function toFreeName(name: string, taken: readonly string[]): string {
  const names = new Set(taken.map(asRead));
  let number = 2;
  while (names.has(asRead(`${name}.${number}`))) number += 1;
  return `${name}.${number}`;
}

/** What another station uses too, or what serves both directions: a wire, a contact or a code of its own. */
export function listSharing({ circuit, control }: CircuitFacts): Lever[] {
  const { circuits, signals, mCodes } = control;
  const stationId = circuits.find(({ id }) => id === circuit.id)?.stationId;
  const ofStation = new Set(circuits.filter((one) => one.stationId === stationId).map(({ id }) => id));
  const isTwice = (names: readonly string[], name: string): boolean =>
    names.filter((one) => asRead(one) === asRead(name)).length > 1;
  const ownSignals = signals.filter(({ circuitId }) => circuitId === circuit.id);
  const beside = signals.filter(({ circuitId }) => circuitId === circuit.id || !ofStation.has(circuitId));
  const shared = ownSignals
    .filter(({ name }) =>
      isTwice(
        beside.map((one) => one.name),
        name,
      ),
    )
    .map(({ id, name }) => {
      const choice = toFreeName(
        name,
        signals.map((one) => one.name),
      );
      return toLever('own-signal', {
        holder: 'signal',
        id,
        field: 'name',
        ref: { entity: 'signal', id, name },
        choice,
      });
    });
  const codes = mCodes
    .filter(
      (code) =>
        code.stationId === stationId &&
        isTwice(
          mCodes.map((one) => one.code),
          code.code,
        ),
    )
    .map(({ id, code }) => {
      const choice = toFreeName(
        code,
        mCodes.map((one) => one.code),
      );
      return toLever('own-code', {
        holder: 'm-code',
        id,
        field: 'code',
        ref: { entity: 'm-code', id, name: code },
        choice,
      });
    });
  return [...shared, ...codes];
}

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
