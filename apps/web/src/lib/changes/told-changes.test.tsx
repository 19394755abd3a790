import { allRoutes, type Route } from '@repo/contracts';
import { SearchParamsContext } from 'next/dist/shared/lib/hooks-client-context.shared-runtime';
import { renderToStaticMarkup } from 'react-dom/server';
import { speakWhole } from '../../messages';
import { en } from '../../messages/en';
import { LocaleProvider } from '../i18n/i18n';
import { PressureUnitProvider } from '../quantity/pressure-unit';
import { findFieldKey } from './field-words';
import { ToldChanges } from './told-changes';

speakWhole(en);

/** What each route that edits writes; a new one has no word here, and fails. */
const ENTITIES: Record<string, string> = {
  updateMembership: 'membership',
  updateApiKey: 'api-key',
  updateIdentityProvider: 'identity-provider',
  updateOrganisation: 'organisation',
  updateSignInPolicy: 'sign-in-policy',
  updateCustomer: 'customer',
  updateSite: 'site',
  updateMachine: 'machine',
  updatePowerUnit: 'power-unit',
  updateCircuit: 'circuit',
  updateComponentType: 'component-type',
  updateMCode: 'm-code',
  updateSignal: 'signal',
  updateWire: 'wire',
  updateFixture: 'fixture',
  updateOperation: 'operation',
  releaseTargetSetting: 'target-setting',
  createSetupRecord: 'setup-record',
  updateIssue: 'issue',
  updateSource: 'source',
  updateAlarmRule: 'alarm-rule',
};
/** An import that is being read is no record, and a secret is told nobody. */
const UNTOLD = new Set(['updateImport', 'updateMe']);
const UNTOLD_FIELDS = new Set(['id', 'afterRevision', 'clientSecret']);
const edits = allRoutes.filter(({ id, method }) => (method === 'PATCH' && !UNTOLD.has(id)) || id in ENTITIES);
const fieldsOf = (route: Route): string[] => {
  const { properties } = JSON.parse(JSON.stringify(route.body?.toJSONSchema({ io: 'input' }))) as {
    properties: Record<string, unknown>;
  };
  return Object.keys(properties);
};

it.each(edits.map((route): [string, Route] => [route.id, route]))('every field of %s has a word', (id, route) => {
  const entity = ENTITIES[id] ?? '';
  const names = fieldsOf(route).filter((name) => !UNTOLD_FIELDS.has(name));
  expect(names.length).toBeGreaterThan(0);
  expect(names.filter((name) => findFieldKey(entity, [name]) === null)).toEqual([]);
});

const say = (entity: string, changes: Record<string, unknown>, unit: 'bar' | '[psi]' = 'bar', names = {}): string[] =>
  renderToStaticMarkup(
    <SearchParamsContext value={new URLSearchParams()}>
      <LocaleProvider initial="en">
        <PressureUnitProvider initial={unit}>
          <ToldChanges entity={entity} changes={changes} names={names} />
        </PressureUnitProvider>
      </LocaleProvider>
    </SearchParamsContext>,
  )
    .split('</li>')
    .map((line) => line.replaceAll(/<[^>]*>/g, ''))
    .filter((line) => line !== '');

const bar = (value: number) => ({ value, unit: 'bar' });

describe('a change in words', () => {
  it('gives old and new value in the page’s unit, a pressure alone in another one', () => {
    const changes = {
      setting: { from: bar(140), to: bar(150) },
      clampTime: { from: null, to: { value: 2, unit: 's' } },
    };
    expect(say('setup-record', changes)).toEqual([
      'Setting: 140bar → 150bar',
      'Clamp time, until the switch makes: not known → 2s',
    ]);
    expect(say('setup-record', changes, '[psi]')[0]).toBe('Setting: 2030psi → 2180psi');
    const modulus = { trappedBulkModulus: { from: { value: 1500, unit: 'MPa' }, to: { value: 1600, unit: 'MPa' } } };
    expect(say('circuit', modulus, '[psi]')[0]).toMatch(/: 1500MPa → 1600MPa$/);
  });

  it('gives a duration as people say it', () => {
    expect(say('source', { silentAfterS: { from: 7200, to: 5400 } })).toEqual(['Silent after: 2h → 90min']);
    expect(say('alarm-rule', { windowS: { from: 86_400, to: 90 } })).toEqual(['Within: 24h → 90s']);
  });

  it('names answers, choices and records', () => {
    const changes = { canTrap: { from: null, to: true }, valveBehaviour: { from: null, to: 'double-detented' } };
    const [trap, valve] = say('circuit', changes);
    expect(trap).toMatch(/: not known → yes$/);
    expect(valve).toBe(`${en['circuit.valveBehaviour']}: not known → ${en['circuit.valveBehaviour.double-detented']}`);
    const id = '01a2267f-3b5b-7b89-9cb3-afbf188dbfea';
    expect(say('machine', { siteId: { from: null, to: id } }, 'bar', { [id]: 'Works' })[0]).toMatch(/→ Works$/);
    expect(say('organisation', { marginsAsked: { 'holds-workpiece': { from: 0.03, to: 0.05 } } })).toEqual([
      `${en['check.holds-workpiece.name']}: 0.03 → 0.05`,
    ]);
  });

  it('goes into figures and elements, and says nothing of ids', () => {
    const quantity = (value: number) => ({ value, unit: 'bar', source: 'plate' });
    expect(say('component-type', { figures: { ratedPressure: { from: quantity(275), to: quantity(260) } } })).toEqual([
      'Rated pressure: 275bar → 260bar',
    ]);
    const elements = { 'Swing clamps': { quantity: { from: 4, to: 6 }, id: { from: 'a', to: 'b' } } };
    expect(say('fixture', { elements })).toEqual([`Swing clamps, ${en['fixtures.quantity'].toLowerCase()}: 4 → 6`]);
  });

  it('says that nothing changed, where the same was said again', () => {
    expect(say('circuit', {})).toEqual(['Nothing changed: the same was said again.']);
  });
});
