import { Module } from '@nestjs/common';
import { CircuitsModule } from '../circuits/index.js';
import { ComponentsModule } from '../components/index.js';
import { FixturesModule } from '../fixtures/index.js';
import { OperationsModule } from '../operations/index.js';
import { PowerUnitsModule } from '../power-units/index.js';
import { SettingsModule } from '../settings/index.js';
import { SizingModule } from '../sizing/index.js';
import { StandingsModule } from '../standings/index.js';
import { MachineOverviewController } from './machine-overview.controller.js';
import { MachineOverviewService } from './machine-overview.service.js';
import { MachinesController } from './machines.controller.js';
import { MachinesRepository } from './machines.repository.js';
import { MachinesService } from './machines.service.js';

@Module({
  imports: [
    CircuitsModule,
    ComponentsModule,
    FixturesModule,
    OperationsModule,
    PowerUnitsModule,
    SettingsModule,
    SizingModule,
    StandingsModule,
  ],
  controllers: [MachinesController, MachineOverviewController],
  providers: [MachinesService, MachinesRepository, MachineOverviewService],
  exports: [MachinesService],
})
export class MachinesModule {}
