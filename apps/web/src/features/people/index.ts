export { PeoplePage } from './components/people-page';
