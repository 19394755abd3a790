import { uuidv7 } from 'uuidv7';

/** Long enough for a process to start again, short enough for somebody who waits. */
const RETRY_AFTER_S = 3;

/** What every answer of this origin carries, whoever gives it. */
const HARDENING = {
  'x-content-type-options': 'nosniff',
  'referrer-policy': 'same-origin',
  'cross-origin-opener-policy': 'same-origin',
  'cross-origin-resource-policy': 'same-origin',
  'permissions-policy': 'camera=(self), microphone=(), geolocation=(), interest-cohort=()',
  'x-frame-options': 'DENY',
  'content-security-policy': "default-src 'none'; frame-ancestors 'none'",
};

const PAGE = `<!doctype html>
<html lang="en">
<meta charset="utf-8">
<meta http-equiv="refresh" content="${RETRY_AFTER_S}">
<title>Kedge is starting</title>
<h1>Kedge is starting</h1>
<p>It answers again in a few seconds; this page looks again by itself. Nothing that was saved is lost.</p>
</html>
`;

/**
 * Answers a request while the API cannot: problem details for programs, a page for people.
 * @param {import('node:http').IncomingMessage} request
 * @param {import('node:http').ServerResponse} response
 */
export function answerLater(request, response) {
  const requestId = uuidv7();
  const path = (request.url ?? '/').split('?', 1)[0] ?? '/';
  const isForPrograms = /^\/(api|live|ready)(\/|$)/.test(path);
  const body = isForPrograms ? JSON.stringify(toProblem(path, requestId)) : PAGE;
  const headers = {
    ...HARDENING,
    ...('encrypted' in request.socket ? { 'strict-transport-security': 'max-age=31536000' } : {}),
    'content-type': isForPrograms ? 'application/problem+json' : 'text/html; charset=utf-8',
    'cache-control': 'no-store',
    'retry-after': String(RETRY_AFTER_S),
    'x-request-id': requestId,
    // The next request is to find the API, not this connection.
    connection: 'close',
  };
  request.resume();
  response.writeHead(503, headers).end(request.method === 'HEAD' ? undefined : body);
}

/**
 * As the API writes it (RFC 9457).
 * @param {string} path
 * @param {string} requestId
 */
function toProblem(path, requestId) {
  return {
    type: '/reference/problems#service.unavailable',
    title: 'Not ready, try again shortly',
    status: 503,
    detail: 'Kedge is starting; nothing that was saved is lost.',
    instance: path,
    code: 'service.unavailable',
    requestId,
  };
}
