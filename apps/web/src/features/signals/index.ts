export { ControlPage } from './components/control-page';
