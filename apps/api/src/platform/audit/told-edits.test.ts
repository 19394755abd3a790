import { toldEdits } from './told-edits.js';

const bar = (value: number) => ({ value, unit: 'bar' });

describe('an edit as it is told', () => {
  it('gives both values of what changed, and what the record has no field for as it was said', () => {
    const before = { setting: bar(140), note: 'a', isOn: true };
    expect(toldEdits(before, { setting: bar(150), note: 'a', isOn: undefined, reason: 'harder cut' })).toEqual({
      setting: { from: bar(140), to: bar(150) },
      reason: 'harder cut',
    });
  });

  it('says whether a record is put away', () => {
    expect(toldEdits({ archivedAt: null }, { archived: true })).toEqual({ archived: { from: false, to: true } });
    expect(toldEdits({ archivedAt: '2026-01-01T00:00:00Z' }, { archived: true })).toEqual({});
  });

  it('goes into what is said whole, and tells what went and what came', () => {
    const before = { figures: { bore: { value: 25, unit: 'mm', source: 'plate' }, rod: { value: 16, unit: 'mm' } } };
    const edited = {
      figures: { bore: { value: 25, unit: 'mm', source: 'data sheet' }, stroke: { value: 12, unit: 'mm' } },
    };
    expect(toldEdits(before, edited)).toEqual({
      figures: {
        bore: { from: before.figures.bore, to: edited.figures.bore },
        rod: { from: before.figures.rod, to: null },
        stroke: { from: null, to: edited.figures.stroke },
      },
    });
  });

  it('tells things of a list apart by their names, where these do', () => {
    const clamps = (quantity: number) => ({ id: '1', name: 'Clamps', quantity });
    const support = { id: '2', name: 'Support', quantity: 1 };
    expect(toldEdits({ elements: [clamps(4)] }, { elements: [support, clamps(6)] })).toEqual({
      elements: { Clamps: { quantity: { from: 4, to: 6 } }, Support: { from: null, to: support } },
    });
    expect(toldEdits({ elements: [clamps(4), clamps(4)] }, { elements: [clamps(4)] })).toEqual({
      elements: { from: [clamps(4), clamps(4)], to: [clamps(4)] },
    });
    expect(toldEdits({ areas: ['machines'] }, { areas: ['machines', 'jobs'] })).toEqual({
      areas: { from: ['machines'], to: ['machines', 'jobs'] },
    });
  });
});
