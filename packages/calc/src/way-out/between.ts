import type { CircuitFacts } from '../circuit-facts/circuit-facts.types.js';
import { toPressureLadderInput } from '../circuit-facts/pressure-ladder-input.js';
import type { Lever } from './levers.js';
import type { BadPair } from './mends.js';
import { BAR, type Figures } from './steps.js';

const steps = (start: number, step: number, length: number): Figures => ({
  length,
  at: (index) => (Math.ceil(start / step) + index) * step,
});

/** Above a setting with all that it may be off. */
function toHighestSetting(facts: CircuitFacts): number {
  const { settingPa, settingHalfWidthPa, gaugeErrorPa } = toPressureLadderInput(facts);
  return [settingPa, settingHalfWidthPa, gaugeErrorPa].reduce<number>((sum, part) => sum + (part ?? 0), 0);
}

/** Figures that lie between two ends, in the order in which they are tried. */
export function figuresBetween(
  facts: CircuitFacts,
  { code, from }: Lever,
  { subject }: BadPair,
  corners: readonly CircuitFacts[],
): Figures {
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

/** The same, each of them put down. */
export function listBetween(...asked: Parameters<typeof figuresBetween>): number[] {
  const figures = figuresBetween(...asked);
  return Array.from({ length: figures.length }, (_, index) => figures.at(index) as number);
}
