export { MembershipsModule } from './memberships.module.js';
