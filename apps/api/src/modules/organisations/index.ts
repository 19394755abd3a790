export { OrganisationsModule } from './organisations.module.js';
