import { uuidv7 } from 'uuidv7';
import { ago, type CircuitWorld } from '../../builders/world.js';
import type { TestClient } from '../../support/api.js';
import type { ProofWatch } from '../../support/proof-watch.js';

interface Scene {
  engineer: TestClient;
  watch: ProofWatch;
  first: CircuitWorld;
  /** a circuit without components on the first machine */
  neighbourId: string;
}

/** Copies of what the first machine has, as changes that bear on circuits. */
export function copyChanges(scene: () => Scene) {
  const first = (): CircuitWorld => scene().first;
  const send = async (path: string, body: object): Promise<unknown> => {
    const answer = await scene().engineer.post(path, body);
    if (answer.status !== 201) throw new Error(`${path}: ${answer.status} ${answer.text}`);
    return answer.body;
  };
  const made = async (path: string, body: Record<string, unknown> & { id: string }): Promise<string> => {
    await send(path, body);
    return body.id;
  };
  /** The id of the first of the records that were written in one go. */
  const madeFirst = async (path: string, body: object): Promise<string> => {
    const { items } = (await send(path, { id: uuidv7(), ...body })) as { items: { id: string }[] };
    return items[0]?.id ?? '';
  };
  /** A machine with a circuit at which nothing is fitted or wired. */
  const bare = { machineId: uuidv7(), stationId: uuidv7(), powerUnitId: uuidv7(), circuitId: uuidv7() };
  const makeBare = async (): Promise<void> => {
    const { machineId, stationId, powerUnitId, circuitId } = bare;
    await made('/machines', {
      ...{ id: machineId, siteId: first().siteId, name: 'Bare machine', form: 'single-station', wayIn: 'direct' },
      stations: [{ id: stationId, name: 'S' }],
    });
    await made('/power-units', { id: powerUnitId, machineId, name: 'Power unit 1', drive: 'air' });
    await made('/circuits', { id: circuitId, powerUnitId, stationId, name: 'Bare' });
  };
  return {
    copyMachine: [
      {
        make: () =>
          made(`/machines/${first().machineId}/copies`, {
            ...{ id: uuidv7(), siteId: first().siteId, name: 'Like the first', fittedFrom: ago(2), reason: 'second' },
            stations: [{ id: uuidv7(), likeStationId: first().stationId, name: 'S' }],
          }),
      },
    ],
    copyCircuit: [
      {
        make: () =>
          made(`/circuits/${scene().neighbourId}/copies`, {
            ...{ id: uuidv7(), powerUnitId: first().powerUnitId, stationId: first().stationId },
            ...{ name: 'Like the neighbour', fittedFrom: ago(2), reason: 'one more' },
          }),
      },
    ],
    copyFixture: [
      {
        make: () => {
          const copy = { id: uuidv7(), customerId: first().customerId, name: 'Copy', operationsFrom: ago(2) };
          return made(`/fixtures/${first().fixtureId}/copies`, copy);
        },
      },
    ],
    copyComponentsOfCircuit: [
      {
        make: async () => {
          await makeBare();
          await scene().watch.makeRecords();
          const onto = { circuitId: bare.circuitId, fittedFrom: ago(2), reason: 'like the first' };
          return madeFirst(`/circuits/${first().circuitId}/component-copies`, onto);
        },
      },
    ],
    copyComponentsOfPowerUnit: [
      {
        make: () => {
          const onto = { powerUnitId: bare.powerUnitId, fittedFrom: ago(2), reason: 'like the first' };
          return madeFirst(`/power-units/${first().powerUnitId}/component-copies`, onto);
        },
      },
    ],
    copyControl: [
      {
        make: async () => {
          const stations = [{ stationId: bare.stationId, likeStationId: first().stationId }];
          const onto = { id: uuidv7(), machineId: bare.machineId, stations };
          await made(`/machines/${first().machineId}/control-copies`, onto);
          return bare.machineId;
        },
      },
    ],
  };
}
