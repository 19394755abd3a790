import { createFirstPassword } from './first-password';

describe('createFirstPassword', () => {
  it('is long enough for the service, in groups that can be read out, and never the same', () => {
    const made = Array.from({ length: 200 }, createFirstPassword);
    for (const password of made) expect(password).toMatch(/^[a-zA-Z2-9]{6}-[a-zA-Z2-9]{6}-[a-zA-Z2-9]{6}$/);
    expect(new Set(made).size).toBe(made.length);
  });
});
