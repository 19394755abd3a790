import { createServer, type Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import { Provider } from 'oidc-provider';

/** An OpenID Connect provider of the tests' own: anybody may say who they are, and is believed. */
export interface OpenIdProvider {
  issuer: string;
  /** goes through its pages as this person; gives the query with which it sends the browser back */
  signIn(address: string, subject: string): Promise<string>;
  stop(): Promise<void>;
}

export const CLIENT = { clientId: 'kedge', clientSecret: 'a secret of the client' };
const MOST_STEPS = 12;

/** Walks redirects and forms with a jar of cookies, as a browser would. */
async function walk(address: string, subject: string): Promise<string> {
  const jar = new Map<string, string>();
  let request: { url: string; body?: URLSearchParams } = { url: address };
  for (let step = 0; step < MOST_STEPS; step += 1) {
    const response = await fetch(request.url, {
      method: request.body === undefined ? 'GET' : 'POST',
      redirect: 'manual',
      headers: { cookie: [...jar].map(([name, value]) => `${name}=${value}`).join('; ') },
      ...(request.body === undefined ? {} : { body: request.body }),
    });
    for (const cookie of response.headers.getSetCookie()) {
      const [name = '', value = ''] = (cookie.split(';', 1)[0] ?? '').split(/=(.*)/s);
      jar.set(name, value);
    }
    const location = response.headers.get('location');
    if (location !== null) {
      const next = new URL(location, request.url);
      if (next.pathname === '/provider-sign-in') return next.search.slice(1);
      request = { url: next.href };
      continue;
    }
    const page = await response.text();
    const action = /<form[^>]*action="([^"]+)"/.exec(page)?.[1];
    const prompt = /name="prompt" value="([^"]+)"/.exec(page)?.[1];
    if (action === undefined || prompt === undefined)
      throw new Error(`the provider shows no form: ${response.status} ${page.slice(0, 200)}`);
    const fields: Record<string, string> = prompt === 'login' ? { prompt, login: subject, password: 'x' } : { prompt };
    request = { url: new URL(action, request.url).href, body: new URLSearchParams(fields) };
  }
  throw new Error('the provider does not come to an end');
}

/** @param redirectUris where it may send browsers back to */
export async function startOpenIdProvider(redirectUris: readonly string[]): Promise<OpenIdProvider> {
  const server: Server = createServer();
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  const issuer = `http://127.0.0.1:${(server.address() as AddressInfo).port}`;
  const provider = new Provider(issuer, {
    clients: [
      {
        client_id: CLIENT.clientId,
        client_secret: CLIENT.clientSecret,
        redirect_uris: [...redirectUris],
        token_endpoint_auth_method: 'client_secret_post',
      },
    ],
    pkce: { required: () => true },
    claims: { openid: ['sub'], email: ['email'], profile: ['name'] },
    conformIdTokenClaims: false,
    findAccount: (_context: unknown, id: string) => ({
      accountId: id,
      claims: () => ({ sub: id, email: `${id}@provider.example`, name: id }),
    }),
    cookies: { keys: ['a key for the cookies of the tests'] },
    features: { devInteractions: { enabled: true } },
  });
  server.on('request', provider.callback() as (...call: unknown[]) => void);
  return {
    issuer,
    signIn: walk,
    stop: () =>
      new Promise((resolve) => {
        server.close(() => resolve());
        server.closeAllConnections();
      }),
  };
}
