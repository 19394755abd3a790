import { nameCalculations } from './name-calculations';

describe('nameCalculations', () => {
  const items = [{ id: 'cylinder-force', title: 'Force of a cylinder' }];

  it('puts the title where a calculation is named by its id', () => {
    expect(nameCalculations('The inverse of `cylinder-force`.', items)).toBe('The inverse of “Force of a cylinder”.');
  });

  it('leaves what is no calculation as it is', () => {
    expect(nameCalculations('With `unit` 1.', items)).toBe('With `unit` 1.');
  });
});
