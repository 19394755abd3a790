export { InstalledPanel } from './components/installed-panel';
export { ComponentTypesPage } from './components/component-types-page';
export { ComponentTypePage } from './components/component-type-page';
export { FitComponent } from './components/fit-component';
