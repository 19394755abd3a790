import type { ControlFacts, MCodeFacts, SignalFacts } from '../src/circuit-facts/circuit-facts.types.js';
import { toInterlock } from '../src/circuit-facts/control-input.js';
import { proveFacts } from '../src/circuit-facts/prove-facts.js';
import { aCircuit, aControl } from './facts-builder.js';

const interlockOf = (change: Partial<ControlFacts>) =>
  proveFacts(aCircuit({ control: aControl(change) })).checks.find(({ code }) => code === 'interlock-sound');
const sharedOf = (change: Partial<ControlFacts>) => toInterlock(aControl(change), 'circuit').proof?.shared;

const signal = (change: Partial<SignalFacts>): SignalFacts => ({
  ...{ id: 'further', circuitId: 'circuit', direction: 'output', name: 'Y29', actsOn: 'unclamp-coil' },
  ...{ suppression: 'transient-suppressor', suppressionVoltageV: 33, isPolarityRight: true, isHeldOn: true },
  ...change,
});
const withSignals = (...further: Partial<SignalFacts>[]): Partial<ControlFacts> => ({
  signals: [...aControl().signals, ...further.map((one, index) => signal({ id: `further ${index}`, ...one }))],
});
const withCodes = (...further: Partial<MCodeFacts>[]): Partial<ControlFacts> => ({
  mCodes: [
    ...aControl().mCodes,
    ...further.map((one, index): MCodeFacts => ({
      ...{ id: `further ${index}`, stationId: 'station of circuit', code: `M9${index}`, action: 'unclamp' },
      waitsForAnswer: true,
      ...one,
    })),
  ],
});
const SHARED = { status: 'fails', reason: 'signals-shared' } as const;

describe('outputs and inputs of a circuit', () => {
  it('shares nothing where each is its own, a second one too', () => {
    const change = withSignals({}, { direction: 'input', actsOn: 'none', name: 'B29' });
    expect(sharedOf(change)).toEqual([]);
    expect(interlockOf(change)).toMatchObject({ status: 'holds' });
  });

  it.each([
    ['a second unclamp output that is the clamp output of another station', [{ name: ' y31' }], ['Y31']],
    ['a second unclamp output that is its own clamp output', [{ name: 'y21' }], ['Y21']],
    [
      'a second input that another station has as a second one',
      [
        { direction: 'input', actsOn: 'none', name: 'X9' },
        { direction: 'input', actsOn: 'none', name: 'x9', circuitId: 'other' },
      ],
      ['X9'],
    ],
    ['one input for two switches', [{ direction: 'input', actsOn: 'none', name: 'B21' }], ['B21']],
  ] as const)('tells of %s', (_what, further, shared) => {
    expect(sharedOf(withSignals(...further))).toEqual(shared);
    expect(interlockOf(withSignals(...further))).toMatchObject({
      ...SHARED,
      parameters: { sharedSignals: shared.length },
    });
  });

  it('tells of outputs and inputs that two circuits of one station have, and not of the codes that work both', () => {
    const { circuits, signals } = aControl();
    const beside = circuits.map((circuit) => ({ ...circuit, stationId: 'station of circuit' }));
    expect(sharedOf({ circuits: beside })).toEqual([]);
    const ofOther = signals.map((one) => ({ ...one, name: one.name.replace(/3(?=\d)/, '2') }));
    expect(sharedOf({ circuits: beside, signals: ofOther })).toEqual(['Y21', 'Y22', 'B21']);
    expect(interlockOf({ circuits: beside, signals: ofOther })).toMatchObject(SHARED);
  });

  it('tells of an output that a circuit has of which too little is known to prove it', () => {
    const { circuits, signals } = aControl();
    const unknown = circuits.map((one) => (one.id === 'other' ? { ...one, valveBehaviour: null } : one));
    const shared = signals.map((one) => (one.id === 'other clamp' ? { ...one, name: 'Y22' } : one));
    expect(interlockOf({ circuits: unknown, signals: shared })).toMatchObject(SHARED);
  });
});

describe('codes of a station', () => {
  const { machine, circuits } = aControl();
  const forgets = { ...machine, behaviour: { ...machine.behaviour, alarmLatches: false } };
  const broken = (change: Partial<ControlFacts>) =>
    (interlockOf({ machine: forgets, ...change })?.faults ?? []).map(({ fault, rule }) => `${fault}: ${rule}`);

  it('explores a second code that does not wait beside the first one that does', () => {
    const lost = 'stuck-switch: alarm-latches';
    expect(broken({})).not.toContain(lost);
    expect(broken(withCodes({ action: 'clamp', waitsForAnswer: false }))).toContain(lost);
    expect(broken(withCodes({ action: 'clamp' }))).not.toContain(lost);
    expect(broken(withCodes({ action: 'other', waitsForAnswer: false }))).not.toContain(lost);
  });

  it('asks whether a second code waits, of the whole machine too', () => {
    for (const stationId of ['station of circuit', null]) {
      expect(
        interlockOf({ circuits: circuits.slice(0, 1), ...withCodes({ stationId, waitsForAnswer: null }) }),
      ).toMatchObject({
        status: 'unproven',
        missing: [{ field: 'waitsForAnswer', ref: { id: 'circuit' } }],
      });
    }
  });

  it('takes a code of no station as acting on every one', () => {
    expect(interlockOf(withCodes({ stationId: null }))).toMatchObject(SHARED);
    expect(sharedOf(withCodes({ stationId: null }))).toEqual(['M90']);
    expect(interlockOf(withCodes({ stationId: null, action: 'other' }))).toMatchObject({ status: 'holds' });
    // A machine with one station: it is that station's.
    const alone = {
      circuits: circuits.slice(0, 1),
      ...withCodes({ stationId: null, action: 'clamp', waitsForAnswer: false }),
    };
    expect(sharedOf(alone)).toEqual([]);
    expect(broken(alone)).toContain('stuck-switch: alarm-latches');
  });

  it('needs a code of its own: one of no station may be meant for another', () => {
    const { mCodes } = aControl();
    const nowhere = mCodes.map((code) => ({ ...code, stationId: null }));
    expect(toInterlock(aControl({ mCodes: nowhere }), 'circuit').missing.map(({ field }) => field)).toEqual([
      ...['clampCode', 'unclampCode', 'waitsForAnswer'],
    ]);
  });

  it('tells of one code for two ends, however it is written', () => {
    expect(sharedOf(withCodes({ code: ' m21' }))).toEqual(['M21']);
    expect(sharedOf(withCodes({ code: 'm22' }))).toEqual([]);
    expect(sharedOf(withCodes({ code: 'm21', action: 'other' }))).toEqual(['M21']);
    expect(sharedOf(withCodes({ code: 'm31' }))).toEqual(['M31']);
  });
});
