import { Module } from '@nestjs/common';
import { IssuesModule } from '../issues/index.js';
import { AlarmRulesController } from './alarm-rules.controller.js';
import { AlarmRulesEvaluator } from './alarm-rules.evaluator.js';
import { AlarmRulesRepository } from './alarm-rules.repository.js';
import { AlarmRulesService } from './alarm-rules.service.js';

@Module({
  imports: [IssuesModule],
  controllers: [AlarmRulesController],
  providers: [AlarmRulesEvaluator, AlarmRulesRepository, AlarmRulesService],
  exports: [AlarmRulesEvaluator],
})
export class AlarmRulesModule {}
