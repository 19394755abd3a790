export { AuditPage } from './components/audit-page';
