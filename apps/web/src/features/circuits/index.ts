export { FleetPage } from './components/fleet-page';
export { AddCircuit, AddPowerUnit, PlantPanel } from './components/plant-panel';
