export { AuditModule } from './audit.module.js';
export { AuditSubjectsService } from './audit-subjects.service.js';
