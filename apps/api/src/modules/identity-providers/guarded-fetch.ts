import type { LookupAddress } from 'node:dns';
import { Resolver } from 'node:dns/promises';
import { BlockList, isIP, type LookupFunction } from 'node:net';
import { Agent, fetch, type RequestInit } from 'undici';

const TIMEOUT_MS = 5_000;
const LARGEST_BYTES = 1_048_576;

/** Addresses that are nobody's public ones: this machine, private networks, links, groups, and those kept for other uses (RFC 6890). */
const PRIVATE = new BlockList();
for (const [network, prefix] of [
  ['0.0.0.0', 8],
  ['10.0.0.0', 8],
  ['100.64.0.0', 10],
  ['127.0.0.0', 8],
  ['169.254.0.0', 16],
  ['172.16.0.0', 12],
  ['192.0.0.0', 24],
  ['192.0.2.0', 24],
  ['192.168.0.0', 16],
  ['198.18.0.0', 15],
  ['198.51.100.0', 24],
  ['203.0.113.0', 24],
  ['224.0.0.0', 3],
] as const) {
  PRIVATE.addSubnet(network, prefix, 'ipv4');
}
// What stands for an IPv4 address (::ffff:…) is judged by the list above.
for (const [network, prefix] of [
  ['::', 96],
  ['64:ff9b::', 96],
  ['100::', 64],
  ['2001:db8::', 32],
  ['fc00::', 7],
  ['fe80::', 10],
  ['ff00::', 8],
] as const) {
  PRIVATE.addSubnet(network, prefix, 'ipv6');
}

export const isPrivateAddress = (address: string): boolean => {
  const family = isIP(address);
  if (family === 0) return true;
  return PRIVATE.check(address, family === 4 ? 'ipv4' : 'ipv6');
};

/**
 * Asks name servers itself. The operating system's way of looking up holds one of the few threads in which passwords are hashed, for as
 * long as the server of a name that an administrator made up does not answer.
 */
const resolver = new Resolver({ timeout: 1_500, tries: 2 });

export async function findAddresses(hostname: string, by: Resolver = resolver): Promise<LookupAddress[]> {
  if (/(^|\.)localhost\.?$/i.test(hostname)) return [{ address: '127.0.0.1', family: 4 }];
  const [four, six] = await Promise.allSettled([by.resolve4(hostname), by.resolve6(hostname)]);
  if (four.status === 'rejected' && six.status === 'rejected') throw four.reason;
  const addressesOf = (found: typeof four, family: number): LookupAddress[] =>
    found.status === 'fulfilled' ? found.value.map((address) => ({ address, family })) : [];
  return [...addressesOf(four, 4), ...addressesOf(six, 6)];
}

/** Looks a name up and refuses one that leads to a private address, at the very moment of connecting. */
const lookupPublic: LookupFunction = (hostname, options, callback) => {
  const answer = (addresses: LookupAddress[]): void => {
    const [first] = addresses;
    if (first === undefined || addresses.some(({ address }) => isPrivateAddress(address))) {
      return callback(new Error(`${hostname} is at a private address`), '', 0);
    }
    if (options.all === true) return callback(null, addresses);
    return callback(null, first.address, first.family);
  };
  findAddresses(hostname).then(answer, (error: Error) => callback(error, '', 0));
};

const publicOnly = new Agent({ connect: { lookup: lookupPublic }, maxResponseSize: LARGEST_BYTES });
const anywhere = new Agent({ maxResponseSize: LARGEST_BYTES });

/**
 * Fetches from an address that an administrator of an organisation wrote: over TLS and from public addresses alone, with an end in
 * time and size, and no redirect followed. Without it whoever administers an organisation could have this server ask its own network.
 */
export async function guardedFetch(address: string, init: object, mayBePrivate: boolean): Promise<Response> {
  const url = new URL(address);
  if (!mayBePrivate) {
    if (url.protocol !== 'https:') throw new Error('only https is asked');
    const host = url.hostname.replace(/^\[|\]$/g, '');
    if (isIP(host) !== 0 && isPrivateAddress(host)) throw new Error(`${host} is a private address`);
  }
  const request: RequestInit = {
    ...(init as RequestInit),
    redirect: 'manual',
    dispatcher: mayBePrivate ? anywhere : publicOnly,
    signal: AbortSignal.timeout(TIMEOUT_MS),
  };
  // The library reads what every fetch gives; the two kinds of Response differ in nothing that it uses.
  return (await fetch(url, request)) as unknown as Response;
}
