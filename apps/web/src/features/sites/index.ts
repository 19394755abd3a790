export { SitePage } from './components/site-page';
export { AddSite } from './components/add-site';
