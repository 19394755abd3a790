export { JoinSheet } from './components/join-sheet';
export { ProviderSheet } from './components/provider-sheet';
export { ProviderSignInPage } from './components/provider-sign-in-page';
