export { ImportPage } from './components/import-page';
export { ImportsPage } from './components/imports-page';
