import http from 'node:http';
import https from 'node:https';
import { text } from 'node:stream/consumers';

export interface Answer {
  readonly status: number;
  readonly headers: http.IncomingHttpHeaders;
  readonly body: string;
}

/** Asks on a connection of its own: one that was kept from before would end with the process that is killed. */
export function ask(url: string): Promise<Answer> {
  const isSecure = url.startsWith('https:');
  // The certificate is made for the test and known to nobody.
  const options = { agent: false, ...(isSecure ? { rejectUnauthorized: false } : {}) };
  return new Promise((resolve, reject) => {
    const request = (isSecure ? https : http).get(url, options, (response) => {
      const { statusCode: status = 0, headers } = response;
      text(response).then((body) => resolve({ status, headers, body }), reject);
    });
    request.once('error', reject);
  });
}
