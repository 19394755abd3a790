import { Module } from '@nestjs/common';
import { SizingModule } from '../sizing/index.js';
import { InterlockService } from './interlock.service.js';
import { MCodesRepository } from './m-codes.repository.js';
import { MCodesService } from './m-codes.service.js';
import { SignalsController } from './signals.controller.js';
import { SignalsRepository } from './signals.repository.js';
import { SignalsService } from './signals.service.js';
import { WiresRepository } from './wires.repository.js';
import { WiresService } from './wires.service.js';

@Module({
  imports: [SizingModule],
  controllers: [SignalsController],
  providers: [
    InterlockService,
    MCodesRepository,
    MCodesService,
    SignalsRepository,
    SignalsService,
    WiresRepository,
    WiresService,
  ],
  exports: [MCodesService, SignalsService, WiresService],
})
export class SignalsModule {}
