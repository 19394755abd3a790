export { ApiKeysPage } from './components/api-keys-page';
