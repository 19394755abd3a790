import type { DerivedColumn } from './derived-columns.js';

/** The elements of a fixture are records of their own in a file; the column stays as it is unless one of them changes. */
export const ELEMENTS_COLUMN: DerivedColumn = {
  column: 'elements',
  type: 'jsonb',
  fields: [],
  read: () => ({}),
  make: (before) => before?.elements ?? [],
};
