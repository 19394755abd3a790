import { Module } from '@nestjs/common';
import { CircuitsModule } from '../circuits/index.js';
import { ComponentsModule } from '../components/index.js';
import { FixturesModule } from '../fixtures/index.js';
import { MachinesModule } from '../machines/index.js';
import { OperationsModule } from '../operations/index.js';
import { PowerUnitsModule } from '../power-units/index.js';
import { SettingsModule } from '../settings/index.js';
import { SignalsModule } from '../signals/index.js';
import { SizingModule } from '../sizing/index.js';
import { CircuitCopiesService } from './circuit-copies.service.js';
import { ComponentCopiesService } from './component-copies.service.js';
import { ControlCopiesService } from './control-copies.service.js';
import { CopiesController } from './copies.controller.js';
import { FixtureCopiesService } from './fixture-copies.service.js';
import { MachineCopiesService } from './machine-copies.service.js';

@Module({
  imports: [
    CircuitsModule,
    ComponentsModule,
    FixturesModule,
    MachinesModule,
    OperationsModule,
    PowerUnitsModule,
    SettingsModule,
    SignalsModule,
    SizingModule,
  ],
  controllers: [CopiesController],
  providers: [
    CircuitCopiesService,
    ComponentCopiesService,
    ControlCopiesService,
    FixtureCopiesService,
    MachineCopiesService,
  ],
})
export class CopiesModule {}
