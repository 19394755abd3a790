export { EventsPanel } from './components/events-panel';
