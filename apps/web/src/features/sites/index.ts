export { SitePage } from './components/site-page';
