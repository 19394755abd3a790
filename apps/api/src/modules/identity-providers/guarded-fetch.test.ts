import { pbkdf2 } from 'node:crypto';
import { createSocket } from 'node:dgram';
import { Resolver } from 'node:dns/promises';
import { promisify } from 'node:util';
import { findAddresses, guardedFetch, isPrivateAddress } from './guarded-fetch.js';

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

  it('names whose server does not answer hold no thread in which passwords are hashed', async () => {
    const silent = createSocket('udp4');
    await new Promise<void>((resolve) => silent.bind(0, '127.0.0.1', resolve));
    const resolver = new Resolver({ timeout: 300, tries: 1 });
    resolver.setServers([`127.0.0.1:${silent.address().port}`]);
    let answered = 0;
    const asked = Array.from({ length: 8 }, (_, i) =>
      findAddresses(`name-${i}.example`, resolver).catch((error: { code: string }) => {
        answered += 1;
        return error.code;
      }),
    );
    await promisify(pbkdf2)('a password', 'salt', 1_000, 32, 'sha256');
    expect(answered).toBe(0);
    expect(new Set(await Promise.all(asked))).toEqual(new Set(['ETIMEOUT']));
    silent.close();
  });
});
