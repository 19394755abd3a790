export { FleetPage } from './components/fleet-page';
