export { IssuesPanel } from './components/issues-panel';
export { IssuesPage } from './components/issues-page';
export { IssuePage } from './components/issue-page';
export { NewIssuePage } from './components/new-issue-page';
