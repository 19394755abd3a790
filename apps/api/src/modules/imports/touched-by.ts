import type { ImportEntity } from '@repo/contracts';
import { dependOn, type Dependency } from '../sizing/index.js';

/** A written record with what it hangs on. */
export interface WrittenRecord {
  id: string;
  /** it is there now and was not before, or the other way round */
  comesOrGoes: boolean;
  machineId: string | null;
  powerUnitId: string | null;
  circuitId: string | null;
  stationId: string | null;
  fixtureId: string | null;
}

/** What of the facts of circuits a written record is, as proofs look them up. */
export function touchedBy(entity: ImportEntity, written: WrittenRecord): Dependency[] {
  const { id, comesOrGoes, machineId, powerUnitId, circuitId, stationId, fixtureId } = written;
  switch (entity) {
    case 'component-type':
    case 'customer':
    case 'site':
    case 'machine':
    case 'power-unit':
    case 'fixture':
      return dependOn(entity, id);
    case 'circuit':
      return comesOrGoes
        ? [
            ...dependOn('circuit', id),
            ...dependOn('circuits-of-machine', machineId),
            ...dependOn('circuits-of-power-unit', powerUnitId),
          ]
        : dependOn('circuit', id);
    case 'installed-component':
      return circuitId === null
        ? dependOn('components-of-power-unit', powerUnitId)
        : dependOn('components-of-circuit', circuitId);
    case 'fixture-element':
      return dependOn('fixture', fixtureId);
    case 'operation':
      return dependOn('operations-of-fixture', fixtureId);
    case 'fixture-fitting':
      return dependOn('fitting-of-station', stationId);
    case 'target-setting':
      return dependOn('target-settings-of-circuit', circuitId);
    case 'setup-record':
      return dependOn('setup-records-of-circuit', circuitId);
    case 'm-code':
    case 'signal':
    case 'wire':
      return dependOn('control-of-machine', machineId);
    case 'station':
      return [];
  }
}
