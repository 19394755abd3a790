export { IdentityProvidersModule } from './identity-providers.module.js';
