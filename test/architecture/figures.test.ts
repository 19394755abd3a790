import { execFileSync } from 'node:child_process';
import fs from 'node:fs';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import {
  CIRCUIT_FIGURES,
  COMPONENT_FIGURES,
  ELEMENT_FIGURES,
  factNameOf,
  FIXTURE_FIGURES,
  MACHINE_FIGURES,
  POWER_UNIT_FIGURES,
  type Figure,
  type Figures,
} from '@repo/calc/figures';

const ROOT = fileURLToPath(new URL('../../', import.meta.url));
/** Written by hand, without schema and words, data and tests, and without the rules of calc, whose inputs have names of their own. */
const BY_HAND = ['apps/*.ts', 'apps/*.tsx', 'packages/*.ts', ':!*.test.ts', ':!*.test.tsx', ':!packages/*/test/*'];
const NOT_COUNTED = [
  ...[':!*/messages/*', ':!*.generated.ts', ':!packages/calc/src/*', ':!packages/drawing/*'],
  // What sizing records of older formats hold never changes again.
  ':!apps/api/src/modules/sizing/sizing-inputs.ts',
  // Invented rows are data, and a ladder that is typed by hand has inputs of its own.
  ...[
    ':!packages/contracts/src/imports/sample-rows.ts',
    ':!apps/web/src/features/calculations/hand-pressure-ladder.ts',
  ],
];
const OF_CALC = ['packages/calc/src/figures/*.ts', 'packages/calc/src/circuit-facts/*.ts'];

const MOST = 3;
/** Figures that more files name, and why. */
const MORE: Readonly<Record<string, string>> = {
  plantAirLow: 'form and import refuse it above the highest air; a panel of the machine shows it',
  plantAirHigh: 'form and import refuse it below the lowest air; a panel of the machine shows it',
  freeFlow: 'figure of pumps, read for times and for a burst hose, and input of a calculation that is plotted',
  gaugeOffReference: 'a condition of what is read on a gauge, and shown beside the pressure ladder',
  openingPressure:
    'figure of relief and sequence valves: the first bounds the ladder, the second stands in lines and order',
  openingTolerance: 'figure of relief and sequence valves, as the pressure that it is of',
  pistonRatio: 'figure of pumps, and input of a calculation that is plotted',
  ratedPressure: 'figure of fixtures, elements and components alike; their pages show it, and a form compares it',
  leastWorkingPressure: 'figure of elements and components alike; their page shows it, and a form compares it',
  ratedForce: 'figure of elements and components alike; holding is computed from it',
  armPressure: 'figure of elements and components alike; a form compares it with the rating',
  springForceAtContact:
    'figure of elements and components alike; holding is computed from it, and the time that a clamp takes',
};

const files = execFileSync('git', ['ls-files', '--', ...BY_HAND, ...NOT_COUNTED], { cwd: ROOT, encoding: 'utf8' })
  .split('\n')
  .concat(execFileSync('git', ['ls-files', '--', ...OF_CALC], { cwd: ROOT, encoding: 'utf8' }).split('\n'))
  .filter((name) => name !== '')
  .map((name) => ({ name, text: fs.readFileSync(path.join(ROOT, name), 'utf8') }));

/** Files that name a figure, in any of the names that it has. */
function listPlaces(...names: string[]): string[] {
  const pattern = new RegExp(`\\b(${names.join('|')})\\b`);
  return files.filter(({ text }) => pattern.test(text)).map(({ name }) => name);
}

const namesOf = (figures: Figures): [string, string][] =>
  Object.entries<Figure>(figures).map(([name, figure]) => [name, factNameOf(name, figure)]);
const ofRecords = [CIRCUIT_FIGURES, POWER_UNIT_FIGURES, MACHINE_FIGURES, FIXTURE_FIGURES, ELEMENT_FIGURES].flatMap(
  namesOf,
);
const ofComponents = Object.values(COMPONENT_FIGURES).flatMap((figures) =>
  Object.keys(figures).map((name): [string, string] => [name, name]),
);
/** A name of one everyday word, such as `bore`, cannot be told from prose; its neighbours in the table go the same ways. */
const isDistinct = ([name]: [string, string]): boolean => /[A-Z]/.test(name);
const FIGURES = [...new Map([...ofComponents, ...ofRecords].filter(isDistinct)).entries()];

describe('a figure', () => {
  it.each(FIGURES)('%s is named in at most three files', (name, fact) => {
    const places = listPlaces(name, fact, `${name}Entered`);
    expect(places.some((place) => place.startsWith('packages/calc/src/figures/'))).toBe(true);
    // An exception that is none any more is taken off the list.
    if (name in MORE) expect(places.length).toBeGreaterThan(MOST);
    else expect(places.length <= MOST ? [] : places).toEqual([]);
  });

  it('that stands in a contract by hand would be counted', () => {
    files.push({ name: 'packages/contracts/src/planted.ts', text: 'plantedFigure: z.number()' });
    expect(listPlaces('plantedFigure', 'plantedFigureM')).toEqual(['packages/contracts/src/planted.ts']);
    files.pop();
  });
});
