import { proveSupply, type SupplyProofInput } from '../src/circuit-checks/prove-circuit.js';
import { pressureLadder } from '../src/pressure-ladder/pressure-ladder.js';
import { aPressureLadder, ref } from './pressure-ladder-builder.js';

/** Holds: reset 140 ± 3, restart from 160, another circuit pulls down to 158; 30 min without supply at 0.5 bar a minute. */
const aProof = (change: Partial<SupplyProofInput> = {}): SupplyProofInput => {
  const ladder = aPressureLadder();
  return {
    pressureLadder: {
      ...ladder,
      pump: { ...ladder.pump, restartPressurePa: 160e5, restartHalfWidthPa: 3e5 },
      thermal: { canTrap: true, temperatureRiseK: 2, netExpansionPerK: 6e-4, bulkModulusPa: 1e9 },
      hold: { decayRatePaPerS: 0.5e5 / 60, reactionTimeS: 2 },
    },
    sharedSupply: { others: [{ ref: ref('Pallet 2'), lowestPressurePa: 158e5 }] },
    withoutSupply: { isDecoupled: true, timeWithoutS: 1800, coolingK: 2, isProvedAgain: true },
    marginsAsked: { 'shared-supply': 0.02, 'holds-without-supply': 0.02 },
    ...change,
  };
};
const checkOf = (input: SupplyProofInput, code: string) => proveSupply(input).checks.find((one) => one.code === code);

describe('a circuit proved beyond its pressure ladder', () => {
  test('the checks of the ladder come first and unchanged; the further ones follow with their numbers', () => {
    const proof = proveSupply(aProof());
    const ladder = pressureLadder(aProof().pressureLadder);
    expect(proof.checks.slice(0, 5)).toEqual(ladder.checks);
    expect(proof.rungs).toEqual(ladder.rungs);
    expect(proof.checks.slice(5)).toMatchObject([
      { code: 'shared-supply', status: 'holds', nominal: { demandPa: 140e5 } },
      // 175 − 15 of leak − 2 K × 6 bar/K, against 120 required.
      {
        code: 'holds-without-supply',
        status: 'holds',
        nominal: { demandPa: 120e5, capacityPa: 148e5, marginPa: 28e5 },
      },
    ]);
    expect(proof.checks[5]?.ratio).toBeCloseTo(143 / 157, 12);
  });

  test('another circuit that pulls this one to its reset point fails it, and the whole circuit with it', () => {
    const others = [{ ref: ref('Pallet 2'), lowestPressurePa: 142e5 }];
    const proof = proveSupply(aProof({ sharedSupply: { others } }));
    expect(proof.status).toBe('fails');
    expect(proof.checks[5]).toMatchObject({
      reason: 'other-station-pulls-down',
      subject: { name: 'Pallet 2' },
      stated: { demandPa: 143e5, capacityPa: 142e5, marginPa: -1e5 },
    });
  });

  test('nothing said is nothing assumed', () => {
    const others = [{ ref: ref('Pallet 2'), lowestPressurePa: null }];
    expect(checkOf(aProof({ sharedSupply: { others } }), 'shared-supply')).toMatchObject({
      status: 'unproven',
      missing: [{ field: 'lowestPressurePa', ref: { name: 'Pallet 2' } }],
    });
    const unsaid = { isDecoupled: null, timeWithoutS: null, coolingK: null, isProvedAgain: null };
    expect(checkOf(aProof({ withoutSupply: unsaid }), 'holds-without-supply')).toMatchObject({
      status: 'unproven',
      nominal: null,
      missing: [{ field: 'isDecoupled' }],
    });
    const { pressureLadder: ladder } = aProof();
    const noModulus = { ...ladder, thermal: { ...ladder.thermal, bulkModulusPa: null } };
    expect(checkOf(aProof({ pressureLadder: noModulus }), 'holds-without-supply')?.missing).toMatchObject([
      { field: 'pressurePerKelvinPaPerK' },
    ]);
    const noExpansion = { ...ladder, thermal: { ...ladder.thermal, netExpansionPerK: null } };
    expect(checkOf(aProof({ pressureLadder: noExpansion }), 'holds-without-supply')?.status).toBe('unproven');
  });

  test('a circuit that always has its supply needs no proof without; a statement has no numbers', () => {
    const always = { isDecoupled: false, timeWithoutS: null, coolingK: null, isProvedAgain: null };
    expect(checkOf(aProof({ withoutSupply: always }), 'holds-without-supply')).toMatchObject({
      status: 'not-applicable',
      reason: 'always-supplied',
    });
    const unproved = { isDecoupled: true, timeWithoutS: 60, coolingK: 0, isProvedAgain: false };
    expect(checkOf(aProof({ withoutSupply: unproved }), 'holds-without-supply')).toMatchObject({
      status: 'fails',
      reason: 'not-proved-again',
      stated: null,
      ratio: null,
    });
  });
});
