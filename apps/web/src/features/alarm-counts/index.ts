export { AlarmCountsPanel } from './components/alarm-counts-panel';
export { RuleEvidence } from './components/rule-evidence';
