export { SourcesModule } from './sources.module.js';
export { SourceSecrets } from './source-secrets.js';
