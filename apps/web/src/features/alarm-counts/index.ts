export { AlarmCountsPanel } from './components/alarm-counts-panel';
export { RuleEvidence } from './components/rule-evidence';
export { SilenceEvidence } from './components/silence-evidence';
