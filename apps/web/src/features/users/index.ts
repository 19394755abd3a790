export { AppFrame } from './components/app-frame';
export { HomeRedirect } from './components/home-redirect';
export { SignInPage } from './components/sign-in-page';
export { AccountPage } from './components/account-page';
export { PeoplePage } from './components/people-page';
