import type { ImportEntity } from '@repo/contracts';
import { isRevised, isTable } from './entity-tables.js';
import type { ColumnValues } from './import-writer.repository.js';
import { idOf, type Rec } from './plan-model.js';

/** The id of what must be there by now. */
export const required = (id: string | null, what: string): string => {
  if (id === null) throw new Error(`an import lost the id of its ${what}`);
  return id;
};

/** What a record hangs on, as its table has it. */
export function linksOf(rec: Rec): ColumnValues {
  const id = (entity: ImportEntity): string | null => idOf(rec.parents[entity]);
  if (rec.entity === 'component-type') return {};
  const links: ColumnValues = {
    customer_id: required(rec.entity === 'customer' ? rec.id : id('customer'), 'customer'),
  };
  if (rec.entity === 'machine') links.site_id = required(id('site'), 'site');
  if (['station', 'power-unit', 'circuit', 'installed-component', 'm-code', 'signal'].includes(rec.entity)) {
    links.machine_id = required(id('machine'), 'machine');
  }
  if (rec.entity === 'circuit') {
    links.station_id = required(id('station'), 'station');
    links.power_unit_id = required(id('power-unit'), 'power unit');
  }
  if (rec.entity === 'installed-component') {
    links.circuit_id = id('circuit');
    links.power_unit_id = rec.parents.circuit === undefined ? required(id('power-unit'), 'power unit') : null;
    links.component_type_id = rec.typeId ?? id('component-type') ?? rec.existing?.links.type ?? null;
  }
  if (rec.entity === 'm-code') links.station_id = id('station');
  if (rec.entity === 'signal') {
    const component = rec.parents['installed-component'];
    links.circuit_id = id('circuit');
    links.m_code_id = id('m-code');
    // Of one that is exchanged by the same file, the one that comes.
    links.component_id = component?.id ?? rec.componentId;
  }
  if (rec.entity === 'wire') links.signal_id = required(id('signal'), 'signal');
  if (rec.entity === 'operation') links.fixture_id = required(id('fixture'), 'fixture');
  if (rec.entity === 'fixture-fitting') {
    links.station_id = required(id('station'), 'station');
    links.fixture_id = required(id('fixture'), 'fixture');
  }
  if (isTable(rec.entity) && isRevised(rec.entity)) links.circuit_id = required(id('circuit'), 'circuit');
  return links;
}
