import { operationCut } from '../../documents/operation-cut.js';
import type { DerivedColumn } from './derived-columns.js';

/** The elements of a fixture are records of their own in a file; the column stays as it is unless one of them changes. */
export const ELEMENTS_COLUMN: DerivedColumn = {
  column: 'elements',
  type: 'jsonb',
  fields: [],
  read: () => ({}),
  make: (before) => before?.elements ?? [],
};

/** A cut is described on its page: a file keeps it, and what was computed from it as long as the pressure is computed. */
export const CUT_COLUMN: DerivedColumn = {
  column: 'cut',
  type: 'jsonb',
  fields: [],
  read: () => ({}),
  make: (before, valueOf) => {
    if (before === null) return operationCut.write({ cut: null, computed: null, typedRequired: null });
    if (valueOf('requiredBasis') === 'computed') return before.cut;
    const { cut } = operationCut.read(before.cut, `operation ${String(valueOf('number'))}`);
    return operationCut.write({ cut, computed: null, typedRequired: null });
  },
};
