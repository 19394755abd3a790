import { IMPORT_ENTITIES, instantSchema, isDueAfter, SETUP_PAIRS, type ImportEntity } from '@repo/contracts';
import { beginsAfter } from '../../platform/clock/period.js';
import { isAhead } from '../../platform/clock/tolerance.js';
import { groupBy } from '../../platform/group-by.js';
import { fitsForm } from '../machines/index.js';
import { canRead, isSwitchPossible } from '../settings/index.js';
import { breathe } from './collect-records.js';
import { decideElement, decideOperation } from './decide-fixture-parts.js';
import { decideComponent } from './decide-component.js';
import { decideComponentType } from './decide-library.js';
import {
  createOrChange,
  differences,
  given,
  isSaid,
  refuse,
  requireFields,
  resulting,
  resultingSi,
  staysWith,
  type DecideContext,
  type Others,
  type Rule,
} from './deciding.js';
import { fold, remark, type Existing, type Rec, type Snapshot } from './plan-model.js';
import { toInstant, type Value } from './read-value.js';

const BREATHE_EVERY = 1_000;

/** Decides for every record what becomes of it. Parents come before what hangs on them. */
export async function decideAll(
  recs: ReadonlyMap<ImportEntity, ReadonlyMap<string, Rec>>,
  context: DecideContext,
): Promise<void> {
  let decided = 0;
  const fitted = new Map<Rec, Rec>();
  for (const entity of IMPORT_ENTITIES) {
    for (const rec of recs.get(entity)?.values() ?? []) {
      decided += 1;
      if (decided % BREATHE_EVERY === 0) await breathe();
      const refused = Object.values(rec.parents).find((parent) => parent.refusals.length > 0);
      if (refused !== undefined) {
        rec.refusals.push(remark('parent-refused', { entity: refused.entity, name: refused.label }));
      }
      settleInstants(rec);
      rec.existing = lookUp(rec, context.snapshot);
      RULES[entity](rec, context, { recs, fitted });
      if (rec.refusals.length > 0) rec.outcome = 'refused';
    }
  }
}

/** Wall clocks become instants, in the time zone of the site. */
function settleInstants(rec: Rec): void {
  for (const name of ['validFrom', 'measuredAt']) {
    const given = rec.values.get(name);
    if (given === undefined || typeof given.value !== 'string') continue;
    const site = rec.parents.site;
    const zone = site?.values.get('timeZone')?.value ?? site?.existing?.values.timeZone ?? 'UTC';
    const instant = toInstant(given.value, String(zone));
    rec.values.set(name, { ...given, value: instant });
    // A day in the zone of the site may be one of another year by the clock of UTC.
    if (!instantSchema.safeParse(instant).success) {
      const params = { got: given.value };
      rec.refusals.push(remark('no-such-date', params, { cell: given.cell, field: `${rec.entity}.${name}` }));
    }
    if (isAhead(instant)) {
      rec.refusals.push(remark('future', { got: given.value }, { cell: given.cell, field: `${rec.entity}.${name}` }));
    }
  }
}

function lookUp(rec: Rec, snapshot: Snapshot): Existing | null {
  const within = (entity: ImportEntity): string | null => rec.parents[entity]?.existing?.id ?? null;
  const find = (parent: string | null, name: string): Existing | null =>
    parent === null ? null : (snapshot.find(rec.entity, `${parent}|${fold(name)}`) ?? null);
  switch (rec.entity) {
    case 'component-type':
    case 'customer':
      return snapshot.find(rec.entity, fold(rec.label)) ?? null;
    case 'site':
    case 'fixture':
      return find(within('customer'), rec.label);
    case 'machine':
      return find(within('site'), rec.label);
    case 'station':
    case 'power-unit':
    case 'circuit':
    case 'installed-component':
    case 'm-code':
    case 'signal':
      return find(within('machine'), rec.label);
    case 'wire':
      return find(within('signal'), rec.label);
    case 'fixture-element':
    case 'operation':
      return find(within('fixture'), rec.label);
    case 'fixture-fitting':
      return find(within('station'), '');
    case 'target-setting':
      return find(within('circuit'), '');
    case 'setup-record':
      return find(
        within('circuit'),
        `${String(rec.values.get('measuredAt')?.value ?? '')}|${String(rec.values.get('reportName')?.value ?? '')}`,
      );
  }
}

const decidePowerUnit: Rule = (rec) => {
  createOrChange(rec);
  const [low, high] = [resultingSi(rec, 'plantAirLow'), resultingSi(rec, 'plantAirHigh')];
  if (low === null || high === null || low <= high) return;
  refuse(rec, 'air-order', {}, rec.values.has('plantAirLow') ? 'plantAirLow' : 'plantAirHigh');
};

const STATIONS = new WeakMap<Others['recs'], Map<Rec | undefined, Rec[]>>();
/** The stations that a file names for a machine. */
function stationsOf(recs: Others['recs'], machine: Rec): readonly Rec[] {
  let byMachine = STATIONS.get(recs);
  if (byMachine === undefined) {
    byMachine = groupBy(recs.get('station')?.values() ?? [], (station) => station.parents.machine);
    STATIONS.set(recs, byMachine);
  }
  return byMachine.get(machine) ?? [];
}

const decideMachine: Rule = (rec, { snapshot }, { recs }) => {
  createOrChange(rec);
  let stations = rec.existing === null ? 0 : snapshot.stationCount(rec.existing.id);
  for (const station of stationsOf(recs, rec)) {
    const isThere = rec.existing !== null && snapshot.find('station', `${rec.existing.id}|${fold(station.label)}`);
    if (!isThere) stations += 1;
  }
  if (rec.existing === null && stations === 0 && !rec.unread.has('stations'))
    refuse(rec, 'machine-without-station', { name: rec.label }, 'stations');
  if (!fitsForm(String(resulting(rec, 'form')), stations)) refuse(rec, 'single-station', { stations }, 'form');
};

const decideCircuit: Rule = (rec) => {
  createOrChange(rec);
  for (const entity of ['station', 'power-unit'] as const) {
    if (rec.existing === null && rec.parents[entity] === undefined) refuse(rec, 'parent-missing', { entity });
  }
  staysWith(rec, 'station', 'power-unit');
};

const decideMCode: Rule = (rec) => {
  createOrChange(rec);
  staysWith(rec, 'station');
};

/** A signal names its component by the designation at which it is installed on the machine, before or by the same file. */
const decideSignal: Rule = (rec, { snapshot }, { recs }) => {
  createOrChange(rec);
  staysWith(rec, 'circuit', 'm-code');
  const { machine } = rec.parents;
  const designation = given(rec, 'component');
  if (designation === null || machine === undefined) return;
  const key = `${machine.key}|${fold(String(designation))}|`;
  const ofFile = recs.get('installed-component')?.get(key);
  const there = snapshot.find('installed-component', `${machine.existing?.id ?? ''}|${fold(String(designation))}`);
  if (ofFile === undefined && there === undefined) {
    refuse(rec, 'component-unknown', { got: String(designation) }, 'component');
  }
  if (ofFile !== undefined) rec.parents['installed-component'] = ofFile;
  rec.componentId = there?.id ?? null;
  const was = rec.existing?.links['installed-component'];
  const comesWithFile = ofFile !== undefined && (ofFile.existing === null || ofFile.isExchange);
  if (rec.existing !== null && (comesWithFile || was !== rec.componentId)) {
    refuse(rec, 'cannot-move', { entity: 'installed-component', name: String(designation) }, 'component');
  }
};

const idOrNothing = (rec: Rec): string => rec.existing?.id ?? '';

const decideFitting: Rule = (rec, _context, { fitted }) => {
  const { station, fixture } = rec.parents;
  if (station === undefined || fixture === undefined) {
    refuse(rec, 'parent-missing', { entity: 'fixture' });
    return;
  }
  const other = fitted.get(station);
  if (other !== undefined)
    refuse(rec, 'station-twice', { name: station.label, other: other.parents.fixture?.label ?? '' });
  fitted.set(station, rec);
  const { existing } = rec;
  const at = given(rec, 'validFrom');
  if (existing === null) {
    requireFields(rec);
    rec.outcome = 'created';
    return;
  }
  const was = String(existing.values.validFrom);
  if (existing.links.fixture === idOrNothing(fixture)) {
    if (at !== null && at !== was) refuse(rec, 'fitted-otherwise', { on: was }, 'validFrom');
    rec.outcome = 'unchanged';
    return;
  }
  if (at === null || !beginsAfter(String(at), was)) {
    refuse(rec, 'fitted-later', { since: was }, 'validFrom');
    return;
  }
  rec.isExchange = true;
  rec.changes = [
    { field: 'fixture-fitting.validFrom', from: was, to: at, cell: rec.values.get('validFrom')?.cell ?? null },
  ];
  rec.outcome = 'changed';
};

const dayOf = (value: Value | null): string | null => (typeof value === 'string' ? value : null);

/** Settings are never overwritten: what differs becomes the next revision. */
const decideSettings: Rule = (rec) => {
  if (!isSwitchPossible(resultingSi(rec, 'setPoint'), resultingSi(rec, 'resetPoint'))) {
    refuse(rec, 'switch-order', {}, rec.values.has('resetPoint') ? 'resetPoint' : 'setPoint');
  }
  if (!canRead(resultingSi(rec, 'gaugeSpan'), resultingSi(rec, 'setting'))) refuse(rec, 'gauge-span', {}, 'gaugeSpan');
  const [calibratedOn, dueOn] = ['gaugeCalibratedOn', 'gaugeCalibrationDueOn'].map((name) =>
    dayOf(resulting(rec, name)),
  );
  if (!isDueAfter(calibratedOn ?? null, dueOn ?? null)) refuse(rec, 'gauge-due', {}, 'gaugeCalibrationDueOn');
  const { existing } = rec;
  const values = new Map([...rec.values].filter(([name]) => rec.entity === 'setup-record' || name !== 'reason'));
  if (existing !== null) {
    rec.changes = differences(rec, existing, values);
    rec.outcome = rec.changes.length > 0 ? 'changed' : 'unchanged';
    if (rec.outcome === 'unchanged') return;
  } else rec.outcome = 'created';
  requireFields(rec);
  if (rec.entity !== 'setup-record') return;
  for (const [first, other] of SETUP_PAIRS) {
    if (isSaid(rec, first) === isSaid(rec, other)) continue;
    refuse(rec, 'both-or-neither', {}, rec.values.has(first) ? first : other);
  }
};

const RULES: Record<ImportEntity, Rule> = {
  'component-type': decideComponentType,
  customer: createOrChange,
  site: createOrChange,
  machine: decideMachine,
  station: createOrChange,
  'power-unit': decidePowerUnit,
  circuit: decideCircuit,
  'installed-component': decideComponent,
  'm-code': decideMCode,
  signal: decideSignal,
  wire: createOrChange,
  fixture: createOrChange,
  'fixture-element': decideElement,
  operation: decideOperation,
  'fixture-fitting': decideFitting,
  'target-setting': decideSettings,
  'setup-record': decideSettings,
};
