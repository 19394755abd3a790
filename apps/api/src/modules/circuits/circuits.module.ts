import { Module } from '@nestjs/common';
import { SizingModule } from '../sizing/index.js';
import { CircuitsController } from './circuits.controller.js';
import { CircuitsRepository } from './circuits.repository.js';
import { CircuitsService } from './circuits.service.js';

@Module({
  imports: [SizingModule],
  controllers: [CircuitsController],
  providers: [CircuitsService, CircuitsRepository],
  exports: [CircuitsService],
})
export class CircuitsModule {}
