export { FindingsPanel } from './components/findings-panel';
