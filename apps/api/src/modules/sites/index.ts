export { SitesModule } from './sites.module.js';
