import { Module } from '@nestjs/common';
import { AlarmRulesModule } from '../alarm-rules/index.js';
import { FindingsModule } from '../findings/index.js';
import { SourcesModule } from '../sources/index.js';
import { DeliveryWriter } from './delivery-writer.js';
import { IntakeRepository } from './intake.repository.js';
import { IntakeService } from './intake.service.js';
import { SourceKeys } from './source-keys.js';
import { SourceKeysRepository } from './source-keys.repository.js';
import { TakeInAgain } from './take-in-again.js';
import { WebhookDoor } from './webhook-door.js';

@Module({
  imports: [SourcesModule, AlarmRulesModule, FindingsModule],
  providers: [
    DeliveryWriter,
    IntakeRepository,
    IntakeService,
    SourceKeys,
    SourceKeysRepository,
    TakeInAgain,
    WebhookDoor,
  ],
})
export class DeliveriesModule {}
