export { SettingsPanel } from './components/settings-panel';
