export { CalculationsPage } from './components/calculations-page';
export { CalculationPage } from './components/calculation-page';
export { HandLadderPage } from './components/hand-ladder-page';
