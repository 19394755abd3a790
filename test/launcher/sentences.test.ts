import fs from 'node:fs';
import path from 'node:path';
import { readAdministrator } from '@repo/launcher/administrator';
import { isInstalled } from '@repo/launcher/install';
import { assertNodeVersion } from '@repo/launcher/node-version';
import { readOptions } from '@repo/launcher/options';
import { readSetupUrls } from '@repo/launcher/setup';
import { createTemporaryFolder } from './support/temporary-folder.js';

const OWNER = 'postgresql://o:o@localhost/kedge';
const APP = 'postgresql://a:a@localhost/kedge';

describe('What the user is told', () => {
  it.each([
    ['v18.20.0', 'This is Node v18.20.0; 20.19 or later is needed.'],
    ['v20.18.3', 'This is Node v20.18.3; 20.19 or later is needed.'],
  ])('about Node %s', (version, sentence) => {
    expect(() => assertNodeVersion(version)).toThrow(sentence);
  });

  it.each(['v20.19.0', 'v22.1.0', 'v24.0.0'])('nothing about Node %s', (version) => {
    expect(() => assertNodeVersion(version)).not.toThrow();
  });

  it.each([
    [{ PORT: '0' }, 'PORT is "0", which is no port.'],
    [{ PORT: '70000' }, 'PORT is "70000", which is no port.'],
    [{ PORT: '48 00' }, 'PORT is "48 00", which is no port.'],
    [{ TLS_CERT: 'c.pem' }, 'TLS_CERT is set and TLS_KEY is not.'],
    [{ TLS_KEY: 'k.pem' }, 'TLS_KEY is set and TLS_CERT is not.'],
    [{ DATABASE_URL: APP }, 'DATABASE_URL is set and DATABASE_OWNER_URL is not.'],
    [{ DATABASE_OWNER_URL: OWNER }, 'DATABASE_OWNER_URL is set and DATABASE_URL is not.'],
    [{ DATABASE_OWNER_URL: OWNER, DATABASE_URL: 'localhost' }, 'DATABASE_URL is no PostgreSQL address.'],
    [{ DATABASE_OWNER_URL: 'mysql://x/y', DATABASE_URL: APP }, 'DATABASE_OWNER_URL is no PostgreSQL address.'],
  ])('about the environment %j', (env, sentence) => {
    expect(() => readOptions([], env)).toThrow(sentence);
  });

  it('about an option that does not exist', () => {
    expect(() => readOptions(['--demo'], {})).toThrow('There is no option --demo.');
  });

  it('is nothing when all is well', () => {
    expect(
      readOptions(['--no-demo'], { DATABASE_OWNER_URL: OWNER, DATABASE_URL: APP, PORT: '80', HOST: '::' }),
    ).toMatchObject({
      port: 80,
      host: '::',
      isDemo: false,
      isSecure: false,
      database: { ownerUrl: OWNER, appUrl: APP },
    });
    const { port, host, isDemo, database } = readOptions([], {});
    expect({ port, host, isDemo, database }).toEqual({
      port: 4800,
      host: '127.0.0.1',
      isDemo: true,
      database: undefined,
    });
  });

  it.each([
    [['--organisation', 'Shop'], {}, 'needs an e-mail address and an organisation'],
    [['--email', 'nobody', '--organisation', 'Shop'], {}, 'needs an e-mail address and an organisation'],
    [['--email', 'a@b.example'], {}, 'needs an e-mail address and an organisation'],
    [['--email', 'a@b.example', '--organisation', 'Shop'], { ADMIN_PASSWORD: 'short' }, 'at least 12 are needed'],
    [['--mail', 'a@b.example'], {}, `Unknown option '--mail'`],
  ])('about an administrator from %j', (args, env, sentence) => {
    expect(() => readAdministrator(args, env)).toThrow(sentence);
  });

  it('is a made-up password for an administrator who gave none', () => {
    const person = readAdministrator(['--email', 'A@B.example', '--organisation', ' Shop '], {});
    expect(person).toMatchObject({ email: 'a@b.example', organisation: 'Shop', isPasswordMadeUp: true });
    expect(person.password).toMatch(/^([a-z2-9]{4}-){3}[a-z2-9]{4}$/);
  });

  it('about container settings without a password, or with another login', () => {
    const all = {
      SUPERUSER_URL: 'postgresql://postgres:p@postgres/postgres',
      DATABASE_OWNER_URL: 'postgresql://kedge_owner:o@postgres/kedge',
      DATABASE_URL: 'postgresql://kedge_app:a@postgres/kedge',
      DATABASE_GATE_URL: 'postgresql://kedge_gate:g@postgres/kedge',
      DATABASE_BACKUP_URL: 'postgresql://kedge_backup:b@postgres/kedge',
    };
    expect(readSetupUrls(all).urls.gateUrl).toBe(all.DATABASE_GATE_URL);
    expect(() => readSetupUrls({ ...all, DATABASE_URL: 'postgresql://kedge_app:@postgres/kedge' })).toThrow(
      'DATABASE_URL has no password.',
    );
    expect(() => readSetupUrls({ ...all, DATABASE_GATE_URL: all.DATABASE_OWNER_URL })).toThrow(
      'DATABASE_GATE_URL must log in as kedge_gate',
    );
    expect(() => readSetupUrls({ ...all, SUPERUSER_URL: '' })).toThrow('SUPERUSER_URL is missing or no address.');
  });
});

describe('The look at what is installed', () => {
  let folder: string;

  function write(file: string, packages: Record<string, object>): void {
    fs.mkdirSync(path.dirname(path.join(folder, file)), { recursive: true });
    fs.writeFileSync(path.join(folder, file), JSON.stringify({ packages }));
  }

  beforeEach(() => {
    folder = createTemporaryFolder();
    write('package-lock.json', {
      '': {},
      'apps/api': {},
      'node_modules/a': { version: '1.0.0' },
      'node_modules/for-another-platform': { version: '1.0.0', optional: true },
    });
  });

  afterEach(() => fs.rmSync(folder, { recursive: true, force: true }));

  it('finds nothing on a fresh clone', () => {
    expect(isInstalled(folder)).toBe(false);
  });

  it('is content with what the lock file names, without packages for other platforms', () => {
    write('node_modules/.package-lock.json', { 'node_modules/a': { version: '1.0.0' } });
    expect(isInstalled(folder)).toBe(true);
  });

  it('notices a package that is missing or has another version', () => {
    write('node_modules/.package-lock.json', { 'node_modules/a': { version: '0.9.0' } });
    expect(isInstalled(folder)).toBe(false);
    write('node_modules/.package-lock.json', {});
    expect(isInstalled(folder)).toBe(false);
  });
});
