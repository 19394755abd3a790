import { createHmac } from 'node:crypto';
import { Webhook } from 'standardwebhooks';
import type { Test } from 'supertest';
import { uuidv7 } from 'uuidv7';
import type { TestApi, TestClient } from './api.js';
import { request } from './shared.js';

export const HOUR_MS = 3_600_000;

/** A whole hour, so many hours before now. */
export const hoursAgo = (hours: number, now = Date.now()): Date =>
  new Date(Math.floor(now / HOUR_MS) * HOUR_MS - hours * HOUR_MS);

export interface IntervalBody {
  circuit: string;
  from: string;
  to: string;
  revision: number;
  clampCycles: number;
  alarms: Record<string, number>;
  measures?: Record<string, number>;
}

/** An hour of counts that began so many hours ago. */
export const anHour = (circuit: string, hours: number, more: Partial<IntervalBody> = {}): IntervalBody => ({
  circuit,
  from: hoursAgo(hours).toISOString(),
  to: hoursAgo(hours - 1).toISOString(),
  revision: 1,
  clampCycles: 40,
  alarms: {},
  ...more,
});

export const aBody = (machine: string, intervals: readonly object[]): object => ({
  type: 'alarm.counts',
  timestamp: new Date().toISOString(),
  data: [{ machine, intervals }],
});

/** A gateway as its maker would write it: signs with the published library. */
export class Gateway {
  constructor(
    private readonly api: TestApi,
    readonly sourceId: string,
    public secret: string,
  ) {}

  headers(id: string, payload: string, { at = new Date(), secret = this.secret } = {}): Record<string, string> {
    return {
      'content-type': 'application/json',
      'webhook-id': id,
      'webhook-timestamp': String(Math.floor(at.getTime() / 1000)),
      'webhook-signature': new Webhook(secret).sign(id, at, payload),
    };
  }

  /** A signature over bytes that are no text. */
  signBytes(id: string, at: Date, bytes: Buffer): string {
    const key = Buffer.from(this.secret.replace('whsec_', ''), 'base64');
    const hmac = createHmac('sha256', key)
      .update(`${id}.${Math.floor(at.getTime() / 1000)}.`)
      .update(bytes);
    return `v1,${hmac.digest('base64')}`;
  }

  /** Sends a text as it is. */
  raw(payload: string, headers: Record<string, string>, sourceId = this.sourceId): Test {
    const test = request(this.api.app.getHttpServer()).post(`/api/v1/sources/${sourceId}/alarm-counts`);
    for (const [name, value] of Object.entries(headers)) test.set(name, value);
    return test.send(payload);
  }

  send(body: object | string, { id = `msg_${uuidv7()}`, at = new Date(), secret = this.secret } = {}): Test {
    const payload = typeof body === 'string' ? body : JSON.stringify(body);
    return this.raw(payload, this.headers(id, payload, { at, secret }));
  }
}

/** A source made by the administrator, with references of machines. */
export async function aGateway(
  api: TestApi,
  administrator: TestClient,
  machines: Record<string, string> = {},
): Promise<Gateway> {
  const id = uuidv7();
  const { body } = await administrator.post('/sources', { id, name: `Gateway ${id.slice(-8)}` }).expect(201);
  for (const [externalReference, machineId] of Object.entries(machines)) {
    await administrator.post(`/sources/${id}/machines`, { id: uuidv7(), externalReference, machineId }).expect(201);
  }
  return new Gateway(api, id, (body as { secret: string }).secret);
}

export interface PlainMachine {
  machineId: string;
  circuitId: string;
}

/** A machine with one circuit, `Station 1`, and nothing else. */
export async function aPlainMachine(engineer: TestClient, siteId: string): Promise<PlainMachine> {
  const [machineId, stationId, powerUnitId, circuitId] = [uuidv7(), uuidv7(), uuidv7(), uuidv7()];
  const station = { id: stationId, name: 'Station 1' };
  const machine = {
    id: machineId,
    siteId,
    name: `VMC-${machineId.slice(-8)}`,
    form: 'single-station',
    wayIn: 'direct',
  };
  await engineer.post('/machines', { ...machine, stations: [station] }).expect(201);
  await engineer.post('/power-units', { id: powerUnitId, machineId, name: 'Unit', drive: 'air' }).expect(201);
  await engineer.post('/circuits', { id: circuitId, powerUnitId, stationId, name: 'Station 1' }).expect(201);
  return { machineId, circuitId };
}
