import { FewPerTurn } from './few-per-turn.js';

const nextTurn = (): Promise<void> => new Promise((resolve) => setImmediate(resolve));

describe('few per turn', () => {
  it('lets two go in each turn of the event loop, in order, and anew after a rest', async () => {
    const gate = new FewPerTurn(2);
    const gone: number[] = [];
    for (const number of [1, 2, 3, 4, 5]) void gate.turn(number * 10).then(() => gone.push(number));
    expect(gone).toEqual([]);
    expect(gate.load).toBe(150);
    await nextTurn();
    expect(gone).toEqual([1, 2]);
    expect(gate.load).toBe(120);
    await nextTurn();
    expect(gone).toEqual([1, 2, 3, 4]);
    await nextTurn();
    expect(gone).toEqual([1, 2, 3, 4, 5]);
    expect(gate.load).toBe(0);
    await nextTurn();
    void gate.turn(0).then(() => gone.push(6));
    await nextTurn();
    expect(gone).toEqual([1, 2, 3, 4, 5, 6]);
  });
});
