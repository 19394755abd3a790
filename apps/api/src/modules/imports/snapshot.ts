import { Injectable } from '@nestjs/common';
import { IMPORT_ENTITIES, type ImportEntity } from '@repo/contracts';
import { groupBy } from '../../platform/group-by.js';
import { listElements } from './element-records.js';
import { isTable } from './entity-tables.js';
import { IDENTITY } from './identity.js';
import { fold, type ComponentTypeFacts, type Existing, type Snapshot } from './plan-model.js';
import { SnapshotRepository, type ComponentTypeRow } from './snapshot.repository.js';

const PER_LINK: Partial<Record<ImportEntity, string>> = {
  site: 'customer',
  fixture: 'customer',
  'fixture-element': 'fixture',
  operation: 'fixture',
  machine: 'site',
  station: 'machine',
  'power-unit': 'machine',
  circuit: 'machine',
  'installed-component': 'machine',
  'm-code': 'machine',
  signal: 'machine',
  wire: 'signal',
  'fixture-fitting': 'station',
  'target-setting': 'circuit',
  'setup-record': 'circuit',
};

/** The natural key of a record: what it hangs on, and its name there. */
function keyOf(entity: ImportEntity, existing: Existing): string {
  const link = PER_LINK[entity];
  const within = link === undefined ? '' : `${existing.links[link] ?? ''}|`;
  const { values } = existing;
  if (entity === 'setup-record') return within + fold(`${String(values.measuredAt)}|${String(values.reportName)}`);
  const { by } = IDENTITY[entity];
  return within + fold(String((by === null ? null : values[by]) ?? ''));
}

/** Of two that differ in case alone, the one in use goes first. */
function byKey(entity: ImportEntity, records: readonly Existing[]): Map<string, Existing> {
  const found = new Map<string, Existing>();
  for (const existing of records) {
    const key = keyOf(entity, existing);
    const before = found.get(key);
    if (before === undefined || (before.archived && !existing.archived)) found.set(key, existing);
  }
  return found;
}

/** By name and by part number; a name goes before another type's part number, an older type before a younger one. */
function typesByName(types: readonly ComponentTypeRow[]): Map<string, ComponentTypeFacts> {
  const found = new Map<string, ComponentTypeFacts>();
  const inUse = types.filter(({ archivedAt }) => archivedAt === null);
  for (const type of inUse) if (type.partNumber !== '') found.set(fold(type.partNumber), type);
  for (const type of inUse) found.set(fold(type.name), type);
  return found;
}

/** What is there of what a file may speak of, found by natural keys. */
@Injectable()
export class Snapshots {
  constructor(private readonly repository: SnapshotRepository) {}

  async read(entities: ReadonlySet<ImportEntity>): Promise<Snapshot> {
    const found = new Map<ImportEntity, Map<string, Existing>>();
    let elements = new Map<string, Existing[]>();
    for (const entity of IMPORT_ENTITIES) {
      if (isTable(entity)) {
        found.set(entity, byKey(entity, entities.has(entity) ? await this.repository.list(entity) : []));
      } else {
        const fixtures = entities.has(entity) ? [...(found.get('fixture')?.values() ?? [])] : [];
        const listed = fixtures.flatMap(listElements);
        found.set(entity, byKey(entity, listed));
        elements = groupBy(listed, (element) => keyOf(entity, element));
      }
    }
    const listed = entities.has('installed-component') ? await this.repository.listTypes() : [];
    const types = typesByName(listed);
    const typesById = new Map(listed.map((type) => [type.id, type]));
    const stations = new Map<string, number>();
    for (const { links, archived } of found.get('station')?.values() ?? []) {
      const machineId = links.machine ?? '';
      if (!archived) stations.set(machineId, (stations.get(machineId) ?? 0) + 1);
    }
    return {
      find: (entity, key) => found.get(entity)?.get(key),
      elements: (key) => elements.get(key) ?? [],
      componentType: (name) => types.get(fold(name)),
      componentTypeOfId: (id) => typesById.get(id),
      stationCount: (machineId) => stations.get(machineId) ?? 0,
    };
  }
}
