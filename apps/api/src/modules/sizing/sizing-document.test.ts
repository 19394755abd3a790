import { differencesOf } from './sizing-document.js';

describe('the difference of two sizing documents', () => {
  it('is nothing between equal ones, however deep', () => {
    const document = { a: [1, { b: null }], c: 'x' };
    expect(differencesOf(document, structuredClone(document))).toEqual([]);
  });

  it('names every place by its pointer, with both values, missing ones as nothing', () => {
    const recorded = { checks: [{ ratio: 0.5 }, { ratio: 1 }], 'a/b': 1, gone: true };
    const replayed = { checks: [{ ratio: 0.5 }, { ratio: 1.0000000000000002 }], 'a/b': null, come: 2 };
    expect(differencesOf(recorded, replayed)).toEqual([
      { pointer: '/a~1b', recorded: '1', replayed: 'null' },
      { pointer: '/checks/1/ratio', recorded: '1', replayed: '1.0000000000000002' },
      { pointer: '/come', recorded: 'nothing', replayed: '2' },
      { pointer: '/gone', recorded: 'true', replayed: 'nothing' },
    ]);
  });

  it('tells zero from minus zero: both are bytes of the record', () => {
    expect(differencesOf({ x: 0 }, { x: -0 })).toHaveLength(1);
  });
});
