import 'reflect-metadata';
import { Module, type DynamicModule } from '@nestjs/common';
import type { Env } from './config/env.js';
import { ApiKeysModule } from './modules/api-keys/index.js';
import { AlarmCountsModule } from './modules/alarm-counts/index.js';
import { AlarmRulesModule } from './modules/alarm-rules/index.js';
import { AuditModule } from './modules/audit/index.js';
import { CalculationsModule } from './modules/calculations/index.js';
import { CircuitsModule } from './modules/circuits/index.js';
import { ComponentsModule } from './modules/components/index.js';
import { CopiesModule } from './modules/copies/index.js';
import { CustomersModule } from './modules/customers/index.js';
import { DeliveriesModule } from './modules/deliveries/index.js';
import { ExportsModule } from './modules/exports/index.js';
import { FindingsModule } from './modules/findings/index.js';
import { FixturesModule } from './modules/fixtures/index.js';
import { IdentityProvidersModule } from './modules/identity-providers/index.js';
import { ImportsModule } from './modules/imports/index.js';
import { IssuesModule } from './modules/issues/index.js';
import { JobsModule } from './modules/jobs/index.js';
import { MachinesModule } from './modules/machines/index.js';
import { MembershipsModule } from './modules/memberships/index.js';
import { OperationsModule } from './modules/operations/index.js';
import { OrganisationsModule } from './modules/organisations/index.js';
import { PowerUnitsModule } from './modules/power-units/index.js';
import { SettingsModule } from './modules/settings/index.js';
import { SignalsModule } from './modules/signals/index.js';
import { SitesModule } from './modules/sites/index.js';
import { SizingModule } from './modules/sizing/index.js';
import { StandingsModule } from './modules/standings/index.js';
import { SourcesModule } from './modules/sources/index.js';
import { UsersModule } from './modules/users/index.js';
import { VisitsModule } from './modules/visits/index.js';
import { PlatformModule } from './platform/platform.module.js';

@Module({})
export class AppModule {
  static with(env: Env): DynamicModule {
    return {
      module: AppModule,
      imports: [
        PlatformModule.with(env),
        UsersModule,
        MembershipsModule,
        ApiKeysModule,
        IdentityProvidersModule,
        OrganisationsModule,
        CustomersModule,
        SignalsModule,
        SitesModule,
        MachinesModule,
        PowerUnitsModule,
        // Its fixed paths below /circuits go before the circuit's own id.
        StandingsModule,
        SizingModule,
        CircuitsModule,
        ComponentsModule,
        FixturesModule,
        OperationsModule,
        SettingsModule,
        CopiesModule,
        IssuesModule,
        VisitsModule,
        SourcesModule,
        DeliveriesModule,
        AlarmCountsModule,
        AlarmRulesModule,
        FindingsModule,
        AuditModule,
        CalculationsModule,
        JobsModule,
        ImportsModule,
        ExportsModule,
      ],
    };
  }
}
