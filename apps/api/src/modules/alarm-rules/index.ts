export { AlarmRulesModule } from './alarm-rules.module.js';
export { AlarmRulesEvaluator } from './alarm-rules.evaluator.js';
