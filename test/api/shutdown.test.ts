import type { AddressInfo } from 'node:net';
import { setTimeout as delay } from 'node:timers/promises';
import { aCircuit, anOrganisation } from '../builders/world.js';
import { PASSWORD, startApi } from '../support/api.js';
import { request } from '../support/shared.js';

describe('a service that is told to end', () => {
  it('answers what it has begun, and only then closes the connections of its database', async () => {
    const api = await startApi();
    const organisation = await anOrganisation(api, 'Ending');
    const email = organisation.emails.engineer;
    const { circuitId } = await aCircuit(await api.as(email), 'E');
    await api.app.listen(0, '127.0.0.1');
    const { port } = api.app.getHttpServer().address() as AddressInfo;
    const signedIn = await request(api.app.getHttpServer())
      .post('/api/v1/sessions')
      .send({ email, password: PASSWORD });
    const cookie = (signedIn.get('Set-Cookie') ?? []).map((one) => one.split(';', 1)[0]).join('; ');
    const url = `http://127.0.0.1:${port}/api/v1/circuits/${circuitId}/pressure-ladder`;
    let begun = 0;
    api.app.getHttpServer().on('request', () => {
      begun += 1;
    });
    const asked = Array.from({ length: 30 }, async () => (await fetch(url, { headers: { cookie } })).status);
    while (begun < asked.length) await delay(5);
    await api.app.close();
    expect(await Promise.all(asked)).toEqual(asked.map(() => 200));
    await expect(fetch(url)).rejects.toThrow();
    await api.db.drop();
  }, 60_000);
});
