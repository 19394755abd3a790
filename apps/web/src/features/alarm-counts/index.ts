export { AlarmCountsPanel } from './components/alarm-counts-panel';
