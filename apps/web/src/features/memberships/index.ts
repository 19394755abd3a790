export { InvitationPage } from './components/invitation-page';
export { PeoplePage } from './components/people-page';
