export { IssuesModule } from './issues.module.js';
export { IssueDoor, type IssueOpening, type Place } from './issue-door.js';
export type { DoorState } from './issue-door.repository.js';
