import { Module } from '@nestjs/common';
import { SizingModule } from '../sizing/index.js';
import { PowerUnitsController } from './power-units.controller.js';
import { PowerUnitsRepository } from './power-units.repository.js';
import { PowerUnitsService } from './power-units.service.js';

@Module({
  imports: [SizingModule],
  controllers: [PowerUnitsController],
  providers: [PowerUnitsService, PowerUnitsRepository],
  exports: [PowerUnitsService],
})
export class PowerUnitsModule {}
