import { Module } from '@nestjs/common';
import { SourcesModule } from '../sources/index.js';
import { AlarmRulesEvaluator } from './alarm-rules.evaluator.js';
import { FindingsController } from './findings.controller.js';
import { FindingsDeskRepository } from './findings-desk.repository.js';
import { FindingsService } from './findings.service.js';
import { IntakeRepository } from './intake.repository.js';
import { IntakeService } from './intake.service.js';
import { SourceKeysRepository } from './source-keys.repository.js';
import { WebhookDoor } from './webhook-door.js';

@Module({
  imports: [SourcesModule],
  controllers: [FindingsController],
  providers: [
    AlarmRulesEvaluator,
    FindingsDeskRepository,
    FindingsService,
    IntakeRepository,
    IntakeService,
    SourceKeysRepository,
    WebhookDoor,
  ],
})
export class AlarmCountsModule {}
