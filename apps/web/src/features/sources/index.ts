export { SourcesPage } from './components/sources-page';
export { SourcePage } from './components/source-page';
