export { CalculationsPage } from './components/calculations-page';
export { CalculationPage } from './components/calculation-page';
export { HandPressureLadderPage } from './components/hand-pressure-ladder-page';
