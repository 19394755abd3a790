import type { SetupRecord } from '@repo/contracts';
import { uuidv7 } from 'uuidv7';
import { aCircuit, ago, anOrganisation, type CircuitWorld } from '../builders/world.js';
import { startApi, type TestApi, type TestClient } from '../support/api.js';
import { tryFile } from './support/import-client.js';

let api: TestApi;
let engineer: TestClient;
let world: CircuitWorld;

beforeAll(async () => {
  api = await startApi({ WORKER: 'inside' });
  engineer = await api.as((await anOrganisation(api, 'Due')).emails.engineer);
  world = await aCircuit(engineer, 'D');
});
afterAll(() => api.stop());

const record = (over: object) => ({
  id: uuidv7(),
  circuitId: world.circuitId,
  setting: { value: 175, unit: 'bar' },
  gaugeSpan: { value: 250, unit: 'bar' },
  gaugeClass: '1.6',
  reportName: 'Visit',
  reason: 'yearly look',
  measuredAt: ago(3),
  measuredByName: 'Test installer',
  afterRevision: 1,
  ...over,
});
const exportNow = async (): Promise<string> =>
  (await engineer.get('/exports/setup-records?format=csv').expect(200)).text;

describe('until when the calibration of a gauge is good', () => {
  it('is kept with the record, goes out and comes in again as it is', async () => {
    const days = { gaugeCalibratedOn: '2026-02-01', gaugeCalibrationDueOn: '2027-02-01' };
    const { body } = await engineer.post('/setup-records', record(days)).expect(201);
    expect(body as SetupRecord).toMatchObject(days);
    const text = await exportNow();
    expect(text).toContain('Gauge calibration due on');
    expect(text).toContain('2027-02-01');
    const again = await tryFile(engineer, 'again.csv', text);
    expect((await again.get()).counts?.rows).toMatchObject({ created: 0, changed: 0, refused: 0 });
  });

  it('is a day after the calibration, whoever says so', async () => {
    const days = { gaugeCalibratedOn: '2026-02-01', gaugeCalibrationDueOn: '2026-02-01' };
    const { body } = await engineer.post('/setup-records', record({ ...days, afterRevision: 2 })).expect(422);
    expect(body.errors).toMatchObject([{ field: 'gaugeCalibrationDueOn', code: 'order' }]);
    const upload = await tryFile(
      engineer,
      'due.csv',
      `${[
        'Customer;Site;Machine;Circuit;Setting [bar];Gauge calibrated on;Gauge calibration due on;Measured at;Measured by;Report;Reason',
        'Customer D;Works;VMC-D;Station 1;175;2026-02-01;2026-01-01;2026-03-01;M;R;look',
      ].join('\r\n')}\r\n`,
    );
    expect(await upload.findings()).toEqual(['G2 gauge-due']);
  });
});
