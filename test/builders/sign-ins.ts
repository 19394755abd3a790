import type { Response, Test } from 'supertest';
import type { TestApi } from '../support/api.js';
import { request } from '../support/shared.js';
import { addPerson, type Organisation } from './world.js';

interface From {
  address?: string;
  cookie?: string;
}

export interface SignIns {
  /** somebody new, whom no other test has signed in or guessed at */
  somebody(role?: string): Promise<string>;
  /** an address that no other test guesses from */
  anAddress(): string;
  signIn(email: string, password: string, from?: From, more?: object): Test;
}

/** How a file signs in people of its own, from addresses of its own, behind a proxy that the API trusts. */
export function signInsOf(find: () => { api: TestApi; organisation: Organisation }): SignIns {
  let [made, addresses] = [0, 0];
  return {
    somebody: async (role = 'lead') => {
      const { api, organisation } = find();
      made += 1;
      const key = `somebody-${made}`;
      await addPerson(api, organisation, key, role, null);
      return organisation.emails[key] ?? '';
    },
    anAddress: () => {
      addresses += 1;
      return `192.0.2.${addresses}`;
    },
    signIn: (email, password, { address = '192.0.2.254', cookie } = {}, more = {}) => {
      const test = request(find().api.app.getHttpServer()).post('/api/v1/sessions').set('x-forwarded-for', address);
      if (cookie !== undefined) test.set('cookie', cookie);
      return test.send({ email, password, ...more });
    },
  };
}

/** The cookie by which a device is known again. */
export const deviceOf = (response: Response): string =>
  (response.get('Set-Cookie') ?? [])
    .map((cookie) => cookie.split(';', 1)[0] ?? '')
    .find((one) => one.includes('device')) ?? '';
