import fs from 'node:fs';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { parse } from 'yaml';

const ROOT = fileURLToPath(new URL('../../', import.meta.url));

interface Service {
  image?: string;
  restart?: string;
  build?: { context: string; dockerfile: string; target: string };
  command?: string[];
  environment?: Record<string, string>;
  depends_on?: Record<string, { condition: string }>;
  healthcheck?: { test: string[] };
  ports?: string[];
}

const text = fs.readFileSync(path.join(ROOT, 'docker-compose.yml'), 'utf8');
const { services } = parse(text) as { services: Record<string, Service> };

describe('docker-compose.yml', () => {
  it('has the database, its preparation, its guard, the API, a worker and the pages', () => {
    const names = ['api', 'database-guard', 'database-setup', 'postgres', 'web', 'worker'];
    expect(Object.keys(services).sort()).toEqual(names);
  });

  it('watches the health of everything that stays', () => {
    for (const name of ['postgres', 'api', 'web']) expect(services[name]?.healthcheck?.test.length).toBeGreaterThan(1);
  });

  it('begins anew whatever ends and should stay', () => {
    for (const name of ['postgres', 'database-guard', 'api', 'worker', 'web']) {
      expect(services[name]?.restart).toBe('unless-stopped');
    }
    expect(services['database-setup']?.restart).toBe('no');
  });

  it('starts the API only on a prepared database', () => {
    expect(services['api']?.depends_on?.['database-setup']?.condition).toBe('service_completed_successfully');
    expect(services['database-setup']?.depends_on?.['postgres']?.condition).toBe('service_healthy');
  });

  it('takes every secret from the environment and has a default for none', () => {
    const values = Object.values(services).flatMap(({ environment = {} }) => Object.entries(environment));
    const secrets = values.filter(([name]) => /PASSWORD|SECRET|DATABASE.*URL|SUPERUSER_URL/.test(name));
    expect(secrets.length).toBeGreaterThan(8);
    for (const [, value] of secrets)
      expect(value).toMatch(/^\$\{[A-Z_]+\}$|^postgresql:\/\/\w+:\$\{[A-Z_]+\}@postgres:5432\/\w+$/);
  });

  it('gives API and worker no login that owns the tables or passes by row security', () => {
    for (const name of ['api', 'worker']) {
      expect(Object.values(services[name]?.environment ?? {}).join(' ')).not.toMatch(
        /kedge_owner|kedge_backup|postgres:\$/,
      );
    }
  });

  it('opens the front door alone', () => {
    expect(Object.entries(services).flatMap(([name, { ports }]) => (ports === undefined ? [] : [name]))).toEqual([
      'api',
    ]);
  });

  it('builds stages and runs files that exist', () => {
    for (const { build, command } of Object.values(services)) {
      if (build !== undefined) {
        const dockerfile = fs.readFileSync(path.join(ROOT, build.dockerfile), 'utf8');
        expect(dockerfile).toMatch(new RegExp(`^FROM .+ AS ${build.target}$`, 'm'));
      }
      if (command !== undefined) expect(fs.existsSync(path.join(ROOT, command.at(-1) ?? ''))).toBe(true);
    }
  });
});
