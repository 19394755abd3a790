export { AcceptanceService } from './acceptance.service.js';
export { MembershipsModule } from './memberships.module.js';
