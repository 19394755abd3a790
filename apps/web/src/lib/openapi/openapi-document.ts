/** One route as the page shows it. */
export interface Operation {
  id: string;
  method: string;
  path: string;
  area: string;
  summary: string;
  description: string;
  parameters: {
    name: string;
    place: 'path' | 'query' | 'header' | 'cookie';
    isRequired: boolean;
    description: string;
  }[];
  body: unknown;
  answers: { status: string; description: string; schema: unknown }[];
}

const METHODS = ['get', 'post', 'put', 'patch', 'delete'];
const PLACES = ['path', 'query', 'header', 'cookie'] as const;

export function isRecord(value: unknown): value is Record<string, unknown> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

const toText = (value: unknown): string => (typeof value === 'string' ? value : '');

function findSchema(content: unknown): unknown {
  if (!isRecord(content)) return null;
  const [media] = Object.values(content);
  return isRecord(media) ? (media['schema'] ?? null) : null;
}

function toParameters(value: unknown): Operation['parameters'] {
  if (!Array.isArray(value)) return [];
  return value.filter(isRecord).map((parameter) => ({
    name: toText(parameter['name']),
    place: PLACES.find((place) => place === parameter['in']) ?? 'query',
    isRequired: parameter['required'] === true,
    description: toText(parameter['description']),
  }));
}

/** The routes of an OpenAPI 3.1 document in their order; what does not look like one is left out. */
export function listOperations(document: unknown): Operation[] {
  if (!isRecord(document) || !isRecord(document['paths'])) return [];
  const operations: Operation[] = [];
  for (const [path, item] of Object.entries(document['paths'])) {
    if (!isRecord(item)) continue;
    for (const method of METHODS) {
      const operation = item[method];
      if (!isRecord(operation)) continue;
      const tags = Array.isArray(operation['tags']) ? operation['tags'] : [];
      const responses = isRecord(operation['responses']) ? operation['responses'] : {};
      const body = isRecord(operation['requestBody']) ? operation['requestBody']['content'] : null;
      operations.push({
        id: toText(operation['operationId']) || `${method} ${path}`,
        method: method.toUpperCase(),
        path,
        area: toText(tags[0]) || path.split('/').find((part) => part !== '') || path,
        summary: toText(operation['summary']),
        description: toText(operation['description']),
        parameters: toParameters(operation['parameters']),
        body: findSchema(body),
        answers: Object.entries(responses)
          .filter((entry): entry is [string, Record<string, unknown>] => isRecord(entry[1]))
          .map(([status, response]) => ({
            status,
            description: toText(response['description']),
            schema: findSchema(response['content']),
          })),
      });
    }
  }
  return operations;
}
