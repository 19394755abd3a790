import type {} from '@fastify/cookie';
import { machineKey, RememberedMachines, type KnownMachine } from './known-machines.js';
import { placeReports } from './place-reports.js';
import type { Reported } from './read-delivery.js';

const SOURCE = 'a';
const machineOf = (name: string): KnownMachine => ({
  facts: name,
  circuits: new Map([
    [
      'P1',
      {
        sourceId: SOURCE,
        reference: name,
        customerId: 'k',
        machineId: name,
        circuitId: `${name}/P1`,
        circuitName: 'P1',
      },
    ],
  ]),
});
const report = (machine: string, circuit = 'P1'): Reported => ({
  item: 0,
  machine,
  circuit,
  fromMs: 0,
  toMs: 1,
  revision: 1,
  clampCycles: 0,
  alarms: '{}',
  measures: null,
  numbersHash: '1',
  raw: { machine, circuit },
});

describe('which circuit each interval means', () => {
  it('is found for each by its machine, in whatever order machines come and come again', () => {
    const reported = ['M-1', 'M-1', 'M-2', 'stranger', 'M-2', 'stranger', 'M-1', 'M-2'].map((name) => report(name));
    const remembered = new RememberedMachines();
    const known = new Map(['M-1', 'M-2'].map((name) => [machineKey(SOURCE, name), machineOf(name)]));
    remembered.keep(known);
    expect(remembered.find([{ sourceId: SOURCE, reported }])).toBeNull();
    const ofKnown = reported.filter(({ machine }) => machine !== 'stranger');
    expect(remembered.find([{ sourceId: SOURCE, reported: ofKnown }])).toEqual(known);
    const { reports, aside } = placeReports({ sourceId: SOURCE, webhookId: 'w' }, reported, known);
    expect(reports.map(({ circuitId }) => circuitId)).toEqual([
      'M-1/P1',
      'M-1/P1',
      'M-2/P1',
      'M-2/P1',
      'M-1/P1',
      'M-2/P1',
    ]);
    expect(aside.map(({ kind, subject, intervals }) => [kind, subject, intervals])).toEqual([
      ['unknown-machine', 'stranger', 2],
    ]);
  });

  it('says of a machine that is known which circuit is not', () => {
    const known = new Map([[machineKey(SOURCE, 'M-1'), machineOf('M-1')]]);
    const { reports, aside } = placeReports(
      { sourceId: SOURCE, webhookId: 'w' },
      [report('M-1', 'P9'), report('M-1')],
      known,
    );
    expect(reports.map(({ circuitId }) => circuitId)).toEqual(['M-1/P1']);
    expect(aside.map(({ kind, subject }) => [kind, subject])).toEqual([['unknown-circuit', 'M-1: P9']]);
  });
});
