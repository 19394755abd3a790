import { standingSummary } from './stored-standing.js';

it('the summary of how a circuit stands needs all that a row shows', () => {
  expect(() => standingSummary.read({})).toThrow('summary of how a circuit stands');
});
