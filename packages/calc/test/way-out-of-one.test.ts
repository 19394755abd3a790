import type { CircuitFacts } from '../src/circuit-facts/circuit-facts.types.js';
import { findWayOut } from '../src/way-out/find-way-out.js';
import type { WayOut, WayOutChange } from '../src/way-out/way-out.types.js';
import { aCircuit, aFixture, COMPONENTS, ELEMENT, READINGS, SETTINGS } from './facts-builder.js';
import { isEnough } from './followed.js';

const find = (change: Partial<CircuitFacts>): { facts: CircuitFacts; wayOut: WayOut } => {
  const facts = aCircuit(change);
  return { facts, wayOut: findWayOut(facts) };
};
const codesOf = ({ changes }: WayOut): string[] => changes.map(({ code }) => code);

describe('the way out of one circuit', () => {
  it('of one that holds there is nothing to do', () => {
    expect(find({}).wayOut).toEqual({
      ...{ outcome: 'nothing', changes: [], isFewest: true, records: [], bounds: [] },
    });
  });

  it('a switch that is set too low is set higher, and nothing else is touched', () => {
    const inUse = { ...SETTINGS, setPointPa: 128e5, resetPointPa: 118e5 };
    const { facts, wayOut } = find({ settings: { inUse, isAsLeft: true, readings: READINGS }, neighbours: [] });
    expect(codesOf(wayOut)).toEqual(['switch']);
    expect(isEnough(facts, wayOut.changes, wayOut)).toBe(true);
    const [{ lowest, highest, apart } = {} as WayOutChange] = wayOut.changes;
    expect(apart).toBe(10e5);
    expect(Number(highest)).toBeGreaterThan(Number(lowest));
    expect([Number(lowest) % 1e5, Number(highest) % 1e5]).toEqual([0, 0]);
  });

  it('what holds the workpiece is more than what it bears: there is none, and both pressures are told', () => {
    const [operation] = aCircuit().operations;
    const thin = { ...operation!, workpieceLimitPa: 110e5, workpieceNotLimiting: false };
    const { wayOut } = find({ operations: [thin] });
    expect(wayOut.outcome).toBe('none');
    expect(wayOut.bounds).toContainEqual(
      expect.objectContaining({
        ...{ code: 'workpiece-limit', reason: 'no-window', capacity: 110e5 },
        // With what stands in the return line, on piston over annulus of 25 and 16 mm.
        demand: expect.closeTo(118e5 + (2e5 * 625) / (625 - 256), 0),
      }),
    );
  });

  it('what is only too near is told with every known error', () => {
    const [operation] = aCircuit().operations;
    const heavy = { ...operation!, requiredPressurePa: 134e5, workpieceLimitPa: 110e5, workpieceNotLimiting: false };
    const { wayOut } = find({ operations: [heavy] });
    expect(wayOut.outcome).toBe('none');
    expect(wayOut.bounds).toContainEqual(
      expect.objectContaining({ code: 'holds-workpiece', demand: expect.any(Number), capacity: 136e5 }),
    );
  });

  it('what is not known is named and never put in: nothing is changed where nothing is known to be wrong', () => {
    const { wayOut } = find({ fixture: aFixture({ ratedPressurePa: null }) });
    expect(wayOut).toMatchObject({ outcome: 'to-record', changes: [], bounds: [] });
    expect(wayOut.records.map(({ field }) => field)).toEqual(['ratedPressurePa']);
  });

  it('where nothing is set nothing can be set otherwise', () => {
    const { wayOut } = find({ settings: { inUse: null, isAsLeft: false, readings: null } });
    expect(wayOut.outcome).toBe('to-record');
    expect(wayOut.records.map(({ field }) => field)).toEqual(expect.arrayContaining(['settingPa', 'resetPointPa']));
  });

  it('a control that unclamps at a reset has that one reaction changed', () => {
    const { machine, ...control } = aCircuit().control;
    const behaviour = { ...machine.behaviour, onReset: 'unclamp' as const };
    const { facts, wayOut } = find({ control: { ...control, machine: { ...machine, behaviour } } });
    expect(wayOut.changes).toEqual([expect.objectContaining({ code: 'reaction', field: 'onReset', choice: 'keep' })]);
    expect(isEnough(facts, wayOut.changes, wayOut)).toBe(true);
  });

  it('a relief that opens too early is set to open later, without a gauge too', () => {
    const components = aCircuit()
      .components.filter(({ kind }) => kind !== 'gauge')
      .map((each) =>
        each.kind === 'relief-valve'
          ? { ...each, figures: { ...each.figures, openingPressure: 90e5, fullFlowPressure: 95e5 } }
          : each,
      );
    const readings = { ...READINGS, gaugeSpanPa: null, gaugeClass: null };
    const { wayOut } = find({ components, settings: { inUse: SETTINGS, isAsLeft: true, readings } });
    const [relief] = wayOut.changes.filter(({ code }) => code === 'relief');
    expect(relief?.lowest).toBeGreaterThan(Number(SETTINGS.settingPa));
  });

  it('a fixture rated too low is one thing to change, by the next usual rating', () => {
    const { wayOut } = find({ fixture: aFixture({ ratedPressurePa: 170e5, elements: [ELEMENT] }) });
    // 204 bar at the highest: 40 x 5.1 bar.
    expect(wayOut.changes).toMatchObject([{ code: 'rating', lowest: 210e5, from: 170e5 }]);
  });

  it('a relief beyond the shut-off of a pallet, that would let its warm oil out, opens higher', () => {
    const { circuit, settings } = aCircuit();
    const { facts, wayOut } = find({
      circuit: {
        ...circuit,
        ...{ isDecoupled: true, timeWithoutSupplyS: 600, coolingWithoutSupplyK: 2, isProvedAgain: true },
        ...{
          trappedNetExpansionPerK: 6e-4,
          trappedBulkModulusPa: 1e9,
          unclampBulkModulusPa: 1e9,
          trappedTemperatureRiseK: 4,
        },
      },
      // A leak of a tenth of what the others have: it counts on both sides.
      settings: { ...settings, readings: { ...READINGS, oilTemperatureK: 313.15, decayPa: 0.3e5, gaugeClass: 0.16 } },
      fixture: aFixture({ ratedPressurePa: 300e5, elements: [{ ...ELEMENT, form: 'lever-clamp', ratedPressurePa: 300e5, rodM: 0.006 }] }), // prettier-ignore
      components: [
        ...COMPONENTS.map((one) => ({ ...one, figures: { ...one.figures, ...(one.kind === 'hose' ? { ratedPressure: 350e5 } : {}) } })), // prettier-ignore
        {
          ...{ id: 'R', name: 'R', place: 'circuit', kind: 'relief-valve', lineFunctions: ['clamp'], sensing: null },
          figures: { ratedPressure: 400e5, openingPressure: 150e5, fullFlowPressure: 160e5 },
          isBeyondShutOff: true,
        },
      ],
      neighbours: [],
    });
    expect(codesOf(wayOut)).toEqual(['relief']);
    expect(Number(wayOut.changes[0]?.lowest)).toBeGreaterThanOrEqual(179e5);
    expect(isEnough(facts, wayOut.changes, wayOut)).toBe(true);
  });

  it('what stands in the return line is lowered where no setting reaches above it', () => {
    const { facts, wayOut } = find({ circuit: { ...aCircuit().circuit, returnPressurePa: 60e5 }, neighbours: [] });
    expect(codesOf(wayOut)).toContain('return-pressure');
    expect(isEnough(facts, wayOut.changes, wayOut)).toBe(true);
  });
});
