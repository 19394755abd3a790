export { IssuesModule } from './issues.module.js';
