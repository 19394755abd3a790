import { readCircuitNumber, toCopiedDesignation } from './copied-designation';

describe('designations in a copy of a circuit', () => {
  it('bear the number of the copy where the original bore its own', () => {
    expect(toCopiedDesignation('H1.4', '3')).toBe('H3.4');
    expect(toCopiedDesignation('12.10', '3')).toBe('3.10');
  });

  it('stay apart where they bear no number', () => {
    expect(toCopiedDesignation('V2', '3')).toBe('V2.3');
    expect(toCopiedDesignation('hose, long', '3')).toBe('hose, long.3');
  });

  it('tell the number of their circuit only where all of them do', () => {
    expect(readCircuitNumber(['H1.1', 'H1.2'])).toBe('1');
    expect(readCircuitNumber(['H1.1', 'H2.2'])).toBeNull();
    expect(readCircuitNumber(['H1.1', 'V2'])).toBeNull();
    expect(readCircuitNumber(['V2'])).toBeNull();
    expect(readCircuitNumber([])).toBeNull();
  });
});
