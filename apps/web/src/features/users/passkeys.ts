'use client';

import { routes } from '@repo/contracts';
import type {
  AuthenticationResponseJSON,
  PublicKeyCredentialCreationOptionsJSON,
  PublicKeyCredentialRequestOptionsJSON,
  RegistrationResponseJSON,
} from '@simplewebauthn/browser';
import { useSyncExternalStore } from 'react';
import { callApi } from '@/lib/api/client';
import { ApiError } from '@/lib/api/problem';

/** The browser's part, fetched when it is used. */
const loadBrowserPart = () => import('@simplewebauthn/browser');

const isPossible = (): boolean => 'PublicKeyCredential' in window && !/^[\d.]+$|^\[/.test(window.location.hostname);
const neverChanges = () => () => undefined;

/** Whether this browser can use passkeys on this page: it needs a name, not a bare address. Not so until the browser has taken the page over. */
export const useCanUsePasskeys = (): boolean => useSyncExternalStore(neverChanges, isPossible, () => false);

/** What the person broke off, or what this device does not have, comes as an error of the browser. */
const toBrokenOff = (): never => {
  throw new ApiError({ code: 'client.passkey_unused', status: 0 });
};

/** As the contract has it: what the browser says, field by field. */
const toPlain = (credential: RegistrationResponseJSON | AuthenticationResponseJSON) => ({
  id: credential.id,
  rawId: credential.rawId,
  type: credential.type,
  response: { ...credential.response },
  clientExtensionResults: { ...credential.clientExtensionResults },
});

/** Makes a passkey on this device and adds it to the account. */
export async function makePasskey(name: string): Promise<void> {
  const { data } = await callApi(routes.passkeys.proposeNew, {});
  const { startRegistration } = await loadBrowserPart();
  const credential = await startRegistration({
    optionsJSON: data.options as unknown as PublicKeyCredentialCreationOptionsJSON,
  }).catch(toBrokenOff);
  await callApi(routes.passkeys.create, {
    body: { challengeId: data.challengeId, name, credential: toPlain(credential) },
  });
}

async function sign() {
  const { data } = await callApi(routes.passkeys.proposeUse, {});
  const { startAuthentication } = await loadBrowserPart();
  const credential = await startAuthentication({
    optionsJSON: data.options as unknown as PublicKeyCredentialRequestOptionsJSON,
  }).catch(toBrokenOff);
  return { challengeId: data.challengeId, credential: toPlain(credential) };
}

export async function signInByPasskey(): Promise<void> {
  await callApi(routes.passkeys.signIn, { body: await sign() });
}

export async function proveByPasskey(): Promise<void> {
  await callApi(routes.passkeys.proveSelf, { body: await sign() });
}
