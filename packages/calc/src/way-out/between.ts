import type { CircuitFacts } from '../circuit-facts/circuit-facts.types.js';
import { toPressureLadderInput } from '../circuit-facts/pressure-ladder-input.js';
import type { Lever } from './levers.js';
import type { BadPair } from './mends.js';
import { BAR } from './steps.js';

const steps = (start: number, step: number, count: number): number[] =>
  Array.from({ length: count }, (_, index) => (Math.ceil(start / step) + index) * step);

/** Above a setting with all that it may be off. */
function toHighestSetting(facts: CircuitFacts): number {
  const { settingPa, settingHalfWidthPa, gaugeErrorPa } = toPressureLadderInput(facts);
  return [settingPa, settingHalfWidthPa, gaugeErrorPa].reduce<number>((sum, part) => sum + (part ?? 0), 0);
}

/** Figures that lie between two ends, in the order in which they are tried. */
export function listBetween(
  facts: CircuitFacts,
  { code, from }: Lever,
  { subject }: BadPair,
  corners: readonly CircuitFacts[],
): number[] {
  switch (code) {
    case 'relief':
    case 'fit-relief':
      return steps(Math.max(...corners.map(toHighestSetting)), BAR, 80);
    case 'sequence-valve':
    case 'fit-sequence-valve': {
      const element = facts.fixture?.elements.find(({ name }) => subject?.name.endsWith(`: ${name}`) === true);
      const component = facts.components.find(({ id }) => id === subject?.id);
      const locks = [element?.leastWorkingPressurePa, component?.figures.leastWorkingPressure];
      return steps(Math.max(...locks.map((pressurePa) => pressurePa ?? 0)), BAR, 12);
    }
    case 'coil-voltage':
      return [24, 12, 48, 110, 230];
    default:
      return steps(Number(from) * 0.7, 0.5, Math.ceil(Number(from) * 1.4));
  }
}
