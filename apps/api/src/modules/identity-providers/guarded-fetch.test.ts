import { guardedFetch, isPrivateAddress } from './guarded-fetch.js';

describe('an address that an organisation names', () => {
  it.each([
    '127.0.0.1',
    '10.1.2.3',
    '172.20.0.5',
    '192.168.1.1',
    '169.254.169.254',
    '0.0.0.0',
    '100.64.0.1',
    '::1',
    '::ffff:127.0.0.1',
    'fd00::1',
    'fe80::1',
    'localhost',
  ])('%s is private', (address) => expect(isPrivateAddress(address)).toBe(true));

  it.each(['9.9.9.9', '172.32.0.1', '2620:fe::fe'])('%s is public', (address) =>
    expect(isPrivateAddress(address)).toBe(false),
  );

  it.each([
    ['http://9.9.9.9/', 'only https'],
    ['https://127.0.0.1/', 'private address'],
    ['https://[::1]/', 'private address'],
    ['https://[::ffff:10.0.0.1]/', 'private address'],
    ['file:///etc/passwd', 'only https'],
  ])('%s is not asked', async (address, reason) => {
    await expect(guardedFetch(address, {}, false)).rejects.toThrow(reason);
  });

  it('a name that leads to this machine is not asked', async () => {
    const failure = await guardedFetch('https://localhost:1443/', {}, false).catch((error: unknown) => error);
    expect(String((failure as Error).cause)).toContain('private address');
  });
});
