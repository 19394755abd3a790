import type { Response, Test } from 'supertest';
import { createDatabase, PASSWORD } from './database.mjs';
import { createApp, readEnv, request } from './shared.js';

export { PASSWORD };
export const SESSION_COOKIE = '__Host-kedge-session';

type Database = Awaited<ReturnType<typeof createDatabase>>;
type App = Awaited<ReturnType<typeof createApp>>;

/** The real application on a database of its own. */
export interface TestApi {
  app: App;
  db: Database;
  /** a client that is signed in as this person, or a stranger without one */
  as(email?: string): Promise<TestClient>;
  stop(): Promise<void>;
}

export async function startApi(
  overrides: Record<string, string> = {},
  options: Parameters<typeof createApp>[1] = {},
  onDatabase: () => Promise<Database> = createDatabase,
): Promise<TestApi> {
  const db = await onDatabase();
  const env = readEnv({
    DATABASE_URL: db.appUrl,
    DATABASE_GATE_URL: db.gateUrl,
    APP_SECRET: 'a secret of at least thirty-two bytes for tests',
    LOG_LEVEL: 'silent',
    RATE_LIMIT: '1000000',
    WORKER: 'off',
    // Other tests keep the machine busy: how long a calculation may take is a test of its own.
    COMPUTE_SECONDS: '60',
    ...overrides,
  });
  const app = await createApp(env, options);
  await app.init();
  await app.getHttpAdapter().getInstance().ready();
  return {
    app,
    db,
    as: (email) => TestClient.signIn(app, email, db.superuserUrl),
    stop: async () => {
      await app.close();
      await db.drop();
    },
  };
}

let keys = 0;

/** Calls the API as one person: cookie, Idempotency-Key and If-Match where they belong. */
export class TestClient {
  private constructor(
    private readonly app: App,
    private readonly cookie: string | null,
    /** past the product to what it keeps; null where nobody needed it */
    readonly superuserUrl: string | null = null,
  ) {}

  static async signIn(app: App, email?: string, superuserUrl: string | null = null): Promise<TestClient> {
    if (email === undefined) return new TestClient(app, null);
    const response = await request(app.getHttpServer()).post('/api/v1/sessions').send({ email, password: PASSWORD });
    if (response.status !== 201) throw new Error(`cannot sign in as ${email}: ${response.status} ${response.text}`);
    const [cookie] = response.get('Set-Cookie') ?? [];
    return new TestClient(app, cookie?.split(';', 1)[0] ?? null, superuserUrl);
  }

  /** Whoever an answer has signed in. */
  static withCookie(app: App, response: Response): TestClient {
    const cookies = (response.get('Set-Cookie') ?? []).map((cookie) => cookie.split(';', 1)[0]);
    return new TestClient(app, cookies.join('; '));
  }

  private with(test: Test, headers: Record<string, string>): Test {
    if (this.cookie !== null) test.set('cookie', this.cookie);
    for (const [name, value] of Object.entries(headers)) test.set(name, value);
    return test;
  }

  get(path: string, headers: Record<string, string> = {}): Test {
    return this.with(request(this.app.getHttpServer()).get(`/api/v1${path}`), headers);
  }

  /** A create: a new Idempotency-Key unless one is given. */
  post(path: string, body: object = {}, headers: Record<string, string> = {}): Test {
    keys += 1;
    const all = { 'idempotency-key': `"test-${keys}"`, ...headers };
    return this.with(request(this.app.getHttpServer()).post(`/api/v1${path}`), all).send(body);
  }

  patch(path: string, version: number, body: object): Test {
    const test = request(this.app.getHttpServer()).patch(`/api/v1${path}`);
    return this.with(test, { 'if-match': `"v${version}"` }).send(body);
  }

  delete(path: string): Test {
    return this.with(request(this.app.getHttpServer()).delete(`/api/v1${path}`), {});
  }

  /** Any call, whole: for walks over all routes. */
  call(method: string, path: string, headers: Record<string, string>, body?: object): Test {
    const agent = request(this.app.getHttpServer());
    const url = `/api/v1${path}`;
    const test =
      method === 'GET'
        ? agent.get(url)
        : method === 'POST'
          ? agent.post(url)
          : method === 'PATCH'
            ? agent.patch(url)
            : agent.delete(url);
    const filled = this.with(test, headers);
    return body === undefined ? filled : filled.send(body);
  }
}

/** Reads the answer as the bytes that came. */
export const binary = (test: Test): Test =>
  test.buffer(true).parse((response, done) => {
    const parts: Buffer[] = [];
    response.on('data', (part: Buffer) => parts.push(part));
    response.on('end', () => done(null, Buffer.concat(parts)));
  });
