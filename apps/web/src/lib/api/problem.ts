import type { Problem, ProblemError } from '@repo/contracts';

/** What went wrong with a request. `code` is what the catalogue has words for. */
export class ApiError extends Error {
  readonly code: string;
  readonly status: number;
  readonly fields: readonly ProblemError[];
  readonly requestId: string | null;
  readonly currentEtag: string | null;

  constructor(details: {
    code: string;
    status: number;
    fields?: readonly ProblemError[] | undefined;
    requestId?: string | undefined;
    currentEtag?: string | undefined;
  }) {
    super(details.code);
    this.name = 'ApiError';
    this.code = details.code;
    this.status = details.status;
    this.fields = details.fields ?? [];
    this.requestId = details.requestId ?? null;
    this.currentEtag = details.currentEtag ?? null;
  }
}

export function isApiError(error: unknown): error is ApiError {
  return error instanceof ApiError;
}

/** Whether the same request would be refused again: neither lost on its way, nor stopped by a fault or by its twin that still runs. */
export const isAnsweredForGood = (error: unknown): boolean =>
  isApiError(error) && error.status >= 400 && error.status < 500 && error.code !== 'request.idempotency_running';

function isProblem(body: unknown): body is Problem {
  return typeof body === 'object' && body !== null && 'code' in body && typeof body.code === 'string';
}

/** Reads an answer that is not a success. Anything but problem+json (a proxy's page) is told as a fault. */
export async function toApiError(response: Response): Promise<ApiError> {
  const type = response.headers.get('content-type') ?? '';
  if (type.includes('json')) {
    const body: unknown = await response.json().catch(() => null);
    if (isProblem(body)) {
      return new ApiError({
        code: body.code,
        status: response.status,
        fields: body.errors,
        requestId: body.requestId,
        currentEtag: body.currentEtag ?? response.headers.get('etag') ?? undefined,
      });
    }
  }
  return new ApiError({ code: 'service.unavailable', status: response.status });
}
