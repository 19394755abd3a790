import { uuidv7 } from 'uuidv7';
import { aCircuit, addPerson, asSuperuser, type Organisation } from '../../builders/world.js';
import type { TestApi } from '../../support/api.js';
import { aBody, aGateway, anHour } from '../../support/gateway.js';
import type { Owned } from './walk.js';

/** One record of everything that a request may name. */
export async function buildOwned(api: TestApi, organisation: Organisation, name: string): Promise<Owned> {
  const engineer = await api.as(organisation.emails.engineer);
  const world = await aCircuit(engineer, name);
  const [sizingRecordId, issueId] = [uuidv7(), uuidv7()];
  await engineer.post('/sizing-records', { id: sizingRecordId, circuitId: world.circuitId }).expect(201);
  await engineer.post('/issues', { id: issueId, machineId: world.machineId, title: 'Something' }).expect(201);
  const administrator = await api.as(organisation.emails.administrator);
  const [sourceMachineId, alarmRuleId] = [uuidv7(), uuidv7()];
  const gateway = await aGateway(api, administrator);
  const mapping = { id: sourceMachineId, externalReference: 'M-1', machineId: world.machineId };
  await administrator.post(`/sources/${gateway.sourceId}/machines`, mapping).expect(201);
  await gateway.send(aBody('M-unknown', [anHour('Station 1', 3)])).expect(200);
  const { body: found } = await administrator.get(`/findings?sourceId=${gateway.sourceId}`).expect(200);
  const findingId = (found as { items: { id: string }[] }).items[0]?.id ?? '';
  const rule = { alarmKind: null, threshold: 3, windowS: 3600, isOn: true };
  await administrator.post('/alarm-rules', { id: alarmRuleId, circuitId: world.circuitId, ...rule }).expect(201);
  // Somebody who walks nowhere: their session is there until it is ended.
  await addPerson(api, organisation, `member-${name}`, 'installer', null);
  const membershipId = organisation.memberships[`member-${name}`] ?? '';
  const [jobId, importId, invitationId, apiKeyId] = [uuidv7(), uuidv7(), uuidv7(), uuidv7()];
  const key = { id: apiKeyId, name: `Walk ${apiKeyId}`, role: 'lead', areas: ['machines'] };
  await administrator.post('/api-keys', key).expect(201);
  const invitation = { id: invitationId, email: 'walk@test.example', displayName: 'Walk', role: 'installer' };
  await administrator.post('/invitations', invitation).expect(201);
  await api.as(organisation.emails[`member-${name}`]);
  const identityProviderId = uuidv7();
  await asSuperuser(api, (client) =>
    client.query(
      `INSERT INTO identity_providers (organisation_id, id, name, issuer, client_id, client_secret_sealed)
       VALUES ($1, $2, 'Walk', 'https://127.0.0.1/nobody', 'walk', '') ON CONFLICT DO NOTHING`,
      [organisation.id, identityProviderId],
    ),
  );
  const { body: sessions } = await administrator.get(`/memberships/${membershipId}/sessions`).expect(200);
  const memberSessionId = (sessions as { items: { id: string }[] }).items[0]?.id ?? '';
  await engineer.post('/imports', { id: importId, fileName: 'walk.csv' }).expect(201);
  await asSuperuser(api, (client) =>
    client.query(`INSERT INTO jobs (organisation_id, id, kind, requested_by) VALUES ($1, $2, 'walk', $3)`, [
      organisation.id,
      jobId,
      membershipId,
    ]),
  );
  return {
    ...world,
    organisationId: organisation.id,
    membershipId,
    sizingRecordId,
    issueId,
    installedId: world.hoseId,
    sourceId: gateway.sourceId,
    sourceMachineId,
    findingId,
    alarmRuleId,
    jobId,
    importId,
    invitationId,
    apiKeyId,
    identityProviderId,
    memberSessionId,
  };
}
