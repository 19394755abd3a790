export { JoinPanel } from './components/join-panel';
export { ProviderPanel } from './components/provider-panel';
export { ProviderSignInPage } from './components/provider-sign-in-page';
