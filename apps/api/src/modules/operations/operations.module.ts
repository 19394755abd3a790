import { Module } from '@nestjs/common';
import { SizingModule } from '../sizing/index.js';
import { OperationsController } from './operations.controller.js';
import { OperationsKeeper } from './operations-keeper.js';
import { OperationsRepository } from './operations.repository.js';
import { RequiredPressureService } from './required-pressure.service.js';
import { OperationsService } from './operations.service.js';

@Module({
  imports: [SizingModule],
  controllers: [OperationsController],
  providers: [OperationsService, OperationsKeeper, OperationsRepository, RequiredPressureService],
  exports: [OperationsService],
})
export class OperationsModule {}
