export { SizingPanel } from './components/sizing-panel';
export { SizingRecordPage } from './components/sizing-record-page';
