export { MachinePage } from './components/machine-page';
export { PortalPage } from './components/portal-page';
export { SetupPage } from './components/setup-page';
export { MachineTable } from './components/machine-table';
export { AddMachine } from './components/machine-form';
export { listFirstReads } from './first-reads';
