import { apiKeysRoutes } from './api-keys/api-keys.routes.js';
import { alarmCountsRoutes } from './alarm-counts/alarm-counts.routes.js';
import { alarmRulesRoutes } from './alarm-rules/alarm-rules.routes.js';
import { auditEntriesRoutes } from './audit/audit-entries.routes.js';
import { calculationsRoutes } from './calculations/calculations.routes.js';
import { circuitsRoutes } from './circuits/circuits.routes.js';
import type { Route } from './common/route.js';
import { componentTypesRoutes } from './components/component-types.routes.js';
import { installedComponentsRoutes } from './components/installed-components.routes.js';
import { customersRoutes } from './customers/customers.routes.js';
import { exportsRoutes } from './exports/exports.routes.js';
import { findingsRoutes } from './findings/findings.routes.js';
import { fixtureFittingsRoutes } from './fixtures/fixture-fittings.routes.js';
import { fixturesRoutes } from './fixtures/fixtures.routes.js';
import { identityProvidersRoutes } from './identity-providers/identity-providers.routes.js';
import { importsRoutes } from './imports/imports.routes.js';
import { issuesRoutes } from './issues/issues.routes.js';
import { jobsRoutes } from './jobs/jobs.routes.js';
import { machinesRoutes } from './machines/machines.routes.js';
import { invitationsRoutes, membershipsRoutes } from './memberships/memberships.routes.js';
import { operationsRoutes } from './operations/operations.routes.js';
import { organisationsRoutes, signInPoliciesRoutes } from './organisations/organisations.routes.js';
import { powerUnitsRoutes } from './power-units/power-units.routes.js';
import { setupRecordsRoutes, targetSettingsRoutes } from './settings/settings.routes.js';
import { mCodesRoutes, signalsRoutes, wiresRoutes } from './signals/signals.routes.js';
import { sitesRoutes } from './sites/sites.routes.js';
import { sizingRecordsRoutes } from './sizing/sizing-records.routes.js';
import { standingsRoutes } from './standings/standings.routes.js';
import { sourcesRoutes } from './sources/sources.routes.js';
import { authenticatorsRoutes } from './users/authenticators.routes.js';
import { passkeysRoutes } from './users/passkeys.routes.js';
import { usersRoutes } from './users/users.routes.js';
import { serviceEventsRoutes } from './visits/service-events.routes.js';

/** Every route of the API, by noun. The API, its description, the browser's client and the tests are made from it. */
export const routes = {
  users: usersRoutes,
  authenticators: authenticatorsRoutes,
  passkeys: passkeysRoutes,
  memberships: membershipsRoutes,
  invitations: invitationsRoutes,
  apiKeys: apiKeysRoutes,
  identityProviders: identityProvidersRoutes,
  organisations: organisationsRoutes,
  signInPolicies: signInPoliciesRoutes,
  customers: customersRoutes,
  sites: sitesRoutes,
  machines: machinesRoutes,
  powerUnits: powerUnitsRoutes,
  circuits: circuitsRoutes,
  standings: standingsRoutes,
  componentTypes: componentTypesRoutes,
  installedComponents: installedComponentsRoutes,
  mCodes: mCodesRoutes,
  signals: signalsRoutes,
  wires: wiresRoutes,
  fixtures: fixturesRoutes,
  fixtureFittings: fixtureFittingsRoutes,
  operations: operationsRoutes,
  targetSettings: targetSettingsRoutes,
  setupRecords: setupRecordsRoutes,
  sizingRecords: sizingRecordsRoutes,
  issues: issuesRoutes,
  serviceEvents: serviceEventsRoutes,
  sources: sourcesRoutes,
  findings: findingsRoutes,
  alarmCounts: alarmCountsRoutes,
  alarmRules: alarmRulesRoutes,
  auditEntries: auditEntriesRoutes,
  calculations: calculationsRoutes,
  jobs: jobsRoutes,
  imports: importsRoutes,
  exports: exportsRoutes,
} as const;

export const allRoutes: readonly Route[] = Object.values(routes).flatMap((area) => Object.values<Route>(area));
