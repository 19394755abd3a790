export { AddCircuit, AddPowerUnit, PlantPanel } from './components/plant-panel';
