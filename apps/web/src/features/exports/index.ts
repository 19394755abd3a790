export { ExportButton } from './components/export-button';
