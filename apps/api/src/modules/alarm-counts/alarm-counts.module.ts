import { Module } from '@nestjs/common';
import { SourcesModule } from '../sources/index.js';
import { AlarmCountsController } from './alarm-counts.controller.js';
import { AlarmRulesEvaluator } from './alarm-rules.evaluator.js';
import { AlarmRulesRepository } from './alarm-rules.repository.js';
import { AlarmRulesService } from './alarm-rules.service.js';
import { CountsReadingRepository } from './counts-reading.repository.js';
import { CountsReadingService } from './counts-reading.service.js';
import { FindingsController } from './findings.controller.js';
import { FindingsDeskRepository } from './findings-desk.repository.js';
import { FindingsService } from './findings.service.js';
import { IntakeRepository } from './intake.repository.js';
import { IntakeService } from './intake.service.js';
import { SourceKeysRepository } from './source-keys.repository.js';
import { WebhookDoor } from './webhook-door.js';

@Module({
  imports: [SourcesModule],
  controllers: [FindingsController, AlarmCountsController],
  providers: [
    AlarmRulesEvaluator,
    AlarmRulesRepository,
    AlarmRulesService,
    CountsReadingRepository,
    CountsReadingService,
    FindingsDeskRepository,
    FindingsService,
    IntakeRepository,
    IntakeService,
    SourceKeysRepository,
    WebhookDoor,
  ],
})
export class AlarmCountsModule {}
