export { OrganisationPage } from './components/organisation-page';
