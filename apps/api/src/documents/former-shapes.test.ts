import { CHECKS, MARGIN_CODES } from '@repo/calc/checks';
import { issueEvidence } from './issue-evidence.js';
import { controlBehaviour, marginsAsked } from './asked-of-circuits.js';
import { fixtureElements } from './fixture-elements.js';
import { importMapping } from '../modules/imports/import-documents.js';
import { operationCut } from './operation-cut.js';

const ID = '019ac000-0000-7000-8000-000000000001';

describe('documents of former shapes', () => {
  it('elements from before a figure was asked for say nothing of it, in SI neither', () => {
    const [element] = fixtureElements.read([
      {
        ...{ id: ID, kind: 'clamp', name: 'Clamps', quantity: 4, ratedForce: { value: 5, unit: 'kN' } },
        si: { ratedForceN: 5000 },
      },
    ]);
    expect(element).toMatchObject({ ratedForce: { value: 5, unit: 'kN' }, frictionCoefficient: null, places: [] });
    expect(element?.si).toMatchObject({ ratedForceN: 5000, forceLimitN: null, ratedPressurePa: null, places: [] });
    // Read again it is of the shape of today.
    expect(fixtureElements.read(fixtureElements.write([element].flatMap((one) => one ?? [])))).toEqual([element]);
  });

  it('elements without their SI values are not read as unknown ones', () => {
    expect(() => fixtureElements.read([{ id: ID, kind: 'clamp', name: 'Clamps', quantity: 4 }])).toThrow('/0/');
  });

  it('operations from before a cut could be described have none', () => {
    expect(operationCut.read({})).toEqual({ cut: null, computed: null, typedRequired: null });
  });

  it('a cut from before its spread, other weights and the moving of its pallet could be said does not say them', () => {
    const stored = operationCut.read({ cut: { method: 'milling' }, computed: null, typedRequired: null });
    expect(stored.cut).toMatchObject({ otherGravities: [], specificForceSpread: null, frictionSpread: null });
    const moving = { indexingSpeed: null, indexingAcceleration: null, indexingRadius: null, workpieceRadius: null };
    expect(stored.cut).toMatchObject(moving);
  });

  it('an issue that no rule opened has no evidence, and an import of which nothing is suggested no mapping', () => {
    expect(issueEvidence.read({})).toBeNull();
    expect(importMapping.read({})).toBeNull();
  });

  it('margins of checks that came later are not asked', () => {
    const isLater = (code: (typeof MARGIN_CODES)[number]) => 'isMarginOptional' in CHECKS[code];
    const first = Object.fromEntries(MARGIN_CODES.filter((code) => !isLater(code)).map((code) => [code, 0.1]));
    const later = Object.fromEntries(MARGIN_CODES.filter(isLater).map((code) => [code, 0]));
    expect(Object.keys(later).length).toBeGreaterThan(0);
    expect(marginsAsked.read(first)).toEqual({ ...first, ...later });
    expect(() => marginsAsked.read({})).toThrow('margins asked for');
  });

  it('what nobody has said of a control stays left out', () => {
    expect(controlBehaviour.read({ alarmLatches: true })).toEqual({ alarmLatches: true });
    expect(() => controlBehaviour.read({ alarmLatches: 'yes' })).toThrow('/alarmLatches needs true or false');
  });
});
