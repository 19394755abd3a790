export { ApiKeysModule } from './api-keys.module.js';
