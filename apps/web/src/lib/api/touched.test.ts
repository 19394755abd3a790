import { allRoutes, routes } from '@repo/contracts';
import { isTouched } from './touched';

const reads = allRoutes.filter(({ method }) => method === 'GET');

describe('what a change touches', () => {
  it('is its own noun at least, and the audit trail', () => {
    for (const ofNoun of Object.values(routes)) {
      const writingRoutes = Object.values(ofNoun);
      for (const change of writingRoutes.filter(({ method }) => method !== 'GET')) {
        expect(isTouched(change, routes.auditEntries.list.id)).toBe(true);
        for (const read of writingRoutes) expect(isTouched(change, read.id)).toBe(true);
      }
    }
  });

  it('is where a circuit stands, for everything that enters a proof', () => {
    const facts = [
      routes.machines.update,
      routes.powerUnits.update,
      routes.circuits.update,
      routes.componentTypes.update,
      routes.installedComponents.create,
      routes.mCodes.create,
      routes.signals.update,
      routes.wires.create,
      routes.fixtures.update,
      routes.fixtureFittings.create,
      routes.operations.update,
      routes.targetSettings.release,
      routes.setupRecords.create,
      routes.organisations.update,
    ];
    const standing = [
      routes.machines.overview,
      routes.machines.setup,
      routes.machines.interlock,
      routes.standings.list,
      routes.standings.counts,
      routes.sizingRecords.list,
      routes.customers.list,
    ];
    for (const fact of facts)
      for (const read of standing) expect([fact.id, isTouched(fact, read.id)]).toEqual([fact.id, true]);
  });

  it('is never everything', () => {
    for (const change of allRoutes.filter(({ method }) => method !== 'GET')) {
      const touched = reads.filter((read) => isTouched(change, read.id));
      expect(touched.length).toBeLessThan(reads.length / 2);
    }
    expect(isTouched(routes.serviceEvents.create, routes.machines.overview.id)).toBe(false);
    expect(isTouched(routes.targetSettings.release, 'openapi')).toBe(false);
  });
});
