import { withConnection } from '@repo/launcher/connection';
import { anOrganisation } from '../builders/world.js';
import { startApi, type TestApi, type TestClient } from '../support/api.js';
import { fillCounts } from '../support/counts.mjs';
import { buffersPerCall, fillFleet } from '../support/fleet.mjs';
import { aBody, aGateway, anHour, type Gateway } from '../support/gateway.js';

const HOURS = 700;
/**
 * Circuits that report: 42,000 and 420,000 rows. From some fifty circuits on, the rows of one hour fill a page, so that every row of
 * a circuit lies on a page of its own; with fewer a chart costs less.
 */
const CIRCUITS = [60, 600];
const daysAgo = (days: number): string => new Date(Date.now() - days * 86_400_000).toISOString();
const worlds: { api: TestApi; client: TestClient; machineId: string; gateway: Gateway; circuit: string }[] = [];

beforeAll(async () => {
  for (const circuits of CIRCUITS) {
    const api = await startApi();
    const organisation = await anOrganisation(api, `Counts of ${circuits}`);
    const fleet = { superuserUrl: api.db.superuserUrl, organisationId: organisation.id };
    await fillFleet({ ...fleet, machines: circuits });
    const { rows, machineId } = await fillCounts({ ...fleet, circuits, hours: HOURS });
    expect(rows).toBe(circuits * HOURS);
    const client = await api.as(organisation.emails.lead);
    const week = `/machines/${machineId}/alarm-counts?from=${daysAgo(7)}&to=${daysAgo(0)}`;
    const { body } = await client.get(week).expect(200);
    // What is measured below must have something to read.
    const [circuit] = (body as { circuits: { circuitName: string; clampCycles: number }[] }).circuits;
    expect(circuit?.clampCycles).toBeGreaterThan(160 * 40);
    const administrator = await api.as(organisation.emails.administrator);
    const gateway = await aGateway(api, administrator, { M1: machineId });
    worlds.push({ api, client, machineId, gateway, circuit: circuit?.circuitName ?? '' });
  }
}, 120_000);
afterAll(async () => {
  for (const { api } of worlds) await api.stop();
});

/** Buffers of a page in the small and in the large world. */
async function measure(path: (machineId: string) => string): Promise<number[]> {
  const found: number[] = [];
  for (const { api, client, machineId } of worlds) {
    const { buffers } = await buffersPerCall({ superuserUrl: api.db.superuserUrl, calls: 10 }, () =>
      client.get(path(machineId)).expect(200),
    );
    found.push(buffers);
  }
  return found;
}

describe('ten times the counts cost the same', () => {
  it.each([
    ['a week of a machine', (id: string) => `/machines/${id}/alarm-counts?from=${daysAgo(7)}&to=${daysAgo(0)}`],
    ['four weeks of a machine', (id: string) => `/machines/${id}/alarm-counts?from=${daysAgo(28)}&to=${daysAgo(0)}`],
    ['the fleet page', () => '/circuits/standings'],
  ])('%s', async (_name, path) => {
    const [small = 0, large = 0] = await measure(path);
    expect(small).toBeGreaterThan(2);
    expect(large).toBeLessThanOrEqual(small * 1.5);
  });

  it('an hour that comes in, beside what the others reported', async () => {
    const found: number[] = [];
    for (const { api, machineId, gateway, circuit } of worlds) {
      await withConnection(api.db.superuserUrl, (client) =>
        client.query(
          `DELETE FROM alarm_counts WHERE circuit_id = (SELECT id FROM circuits WHERE machine_id = $1 AND name = $2)
             AND from_at >= date_trunc('hour', now()) - interval '30 hours'`,
          [machineId, circuit],
        ),
      );
      let hoursAgo = 31;
      const { buffers } = await buffersPerCall({ superuserUrl: api.db.superuserUrl, calls: 20 }, () =>
        gateway.send(aBody('M1', [anHour(circuit, (hoursAgo -= 1))])).expect(200),
      );
      found.push(buffers);
    }
    const [small = 0, large = 0] = found;
    expect(small).toBeGreaterThan(10);
    expect(large).toBeLessThanOrEqual(small * 1.5);
  });
});
