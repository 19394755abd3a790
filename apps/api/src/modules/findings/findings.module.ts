import { Module } from '@nestjs/common';
import { AlarmRulesModule } from '../alarm-rules/index.js';
import { FindingsController } from './findings.controller.js';
import { FindingsDeskRepository } from './findings-desk.repository.js';
import { FindingsService } from './findings.service.js';
import { PartsSetAside } from './parts-set-aside.js';

@Module({
  imports: [AlarmRulesModule],
  controllers: [FindingsController],
  providers: [FindingsDeskRepository, FindingsService, PartsSetAside],
  exports: [PartsSetAside],
})
export class FindingsModule {}
