import { allRoutes, PROBLEM_CODES, problemSchema, type ProblemCode, type Route } from '@repo/contracts';
import { z } from 'zod';

type Json = Record<string, unknown>;

const withId = (schema: z.ZodType): boolean => typeof z.globalRegistry.get(schema)?.id === 'string';

/** Points references at the document's own components, and drops what belongs to a schema that stands alone. */
function relocate(node: unknown): unknown {
  if (Array.isArray(node)) return node.map(relocate);
  if (typeof node !== 'object' || node === null) return node;
  return Object.fromEntries(
    Object.entries(node)
      .filter(([name]) => !['$schema', '$id', '$defs', 'id'].includes(name))
      .map(([name, value]) => [
        name,
        name === '$ref' && typeof value === 'string'
          ? value.replace('#/$defs/', '#/components/schemas/')
          : name === 'properties' && typeof value === 'object' && value !== null
            ? Object.fromEntries(Object.entries(value).map(([key, inner]) => [key, relocate(inner)]))
            : relocate(value),
      ]),
  );
}

/** JSON Schema 2020-12, which is what OpenAPI 3.1 speaks; named schemas become references. */
function schemaOf(schema: z.ZodType, io: 'input' | 'output'): Json {
  const id = z.globalRegistry.get(schema)?.id;
  if (io === 'output' && typeof id === 'string') return { $ref: `#/components/schemas/${id}` };
  return relocate(z.toJSONSchema(schema, { io, unrepresentable: 'any' })) as Json;
}

function componentSchemas(): Json {
  const { schemas } = z.toJSONSchema(z.globalRegistry, {
    uri: (id) => `#/components/schemas/${id}`,
    io: 'output',
    unrepresentable: 'any',
  });
  return Object.fromEntries(Object.entries(schemas).map(([name, schema]) => [name, relocate(schema)]));
}

function errorsOf(route: Route): ProblemCode[] {
  const codes = new Set<ProblemCode>(['request.too_many', 'service.unavailable', ...(route.errors ?? [])]);
  if (route.access !== 'public') codes.add('session.needed');
  if (Array.isArray(route.access)) codes.add('session.role');
  if (route.params !== undefined) codes.add('request.not_found');
  if (route.query !== undefined || route.body !== undefined) codes.add('request.invalid').add('request.malformed');
  if (route.ifMatch === true) codes.add('request.precondition_required').add('request.stale');
  if (route.idempotent === true) {
    codes.add('request.idempotency_missing').add('request.idempotency_reused').add('request.idempotency_running');
  }
  return [...codes].sort();
}

function problemResponses(route: Route): Json {
  const byStatus = new Map<number, ProblemCode[]>();
  for (const code of errorsOf(route)) {
    const { status } = PROBLEM_CODES[code];
    byStatus.set(status, [...(byStatus.get(status) ?? []), code]);
  }
  return Object.fromEntries(
    [...byStatus].map(([status, codes]) => [
      String(status),
      {
        description: codes.map((code) => `${code}: ${PROBLEM_CODES[code].when}`).join('; '),
        content: { 'application/problem+json': { schema: { $ref: '#/components/schemas/Problem' } } },
      },
    ]),
  );
}

function parametersOf(route: Route): Json[] {
  const parameters: Json[] = [];
  for (const [name, schema] of Object.entries(route.params?.shape ?? {})) {
    parameters.push({ name, in: 'path', required: true, schema: schemaOf(schema as z.ZodType, 'input') });
  }
  if (route.query instanceof z.ZodObject) {
    for (const [name, schema] of Object.entries(route.query.shape as Record<string, z.ZodType>)) {
      const required = !schema.safeParse(undefined).success;
      parameters.push({ name, in: 'query', required, schema: schemaOf(schema, 'input') });
    }
  }
  const header = (name: string, description: string): Json => ({
    name,
    in: 'header',
    required: true,
    schema: { type: 'string' },
    description,
  });
  if (route.ifMatch === true) parameters.push(header('If-Match', 'the ETag of the version that was changed'));
  if (route.idempotent === true) {
    parameters.push(header('Idempotency-Key', 'a string in quotes, made anew for each create; kept at least 24 hours'));
  }
  return parameters;
}

function operationOf(route: Route): Json {
  const content =
    route.response === undefined
      ? {}
      : { content: { 'application/json': { schema: schemaOf(route.response, 'output') } } };
  const bytes = { 'application/octet-stream': { schema: { type: 'string', format: 'binary' } } };
  return {
    operationId: route.id,
    tags: [route.area],
    summary: route.summary,
    ...(route.access === 'public' ? { security: [] } : {}),
    'x-access': route.access,
    parameters: parametersOf(route),
    ...(route.body === undefined
      ? {}
      : {
          requestBody: { required: true, content: { 'application/json': { schema: schemaOf(route.body, 'input') } } },
        }),
    ...(route.upload === true ? { requestBody: { required: true, content: bytes } } : {}),
    responses: {
      [String(route.status)]: {
        description: route.status === 204 ? 'done' : 'what was asked for',
        ...(route.download === true ? { content: bytes } : content),
        ...(route.job === true
          ? { headers: { Location: { schema: { type: 'string' }, description: 'the job' } } }
          : {}),
      },
      ...problemResponses(route),
    },
  };
}

/** The API's description, made from the same contracts that check each request. */
export function openApiDocument(): Json {
  if (!withId(problemSchema)) throw new Error('the problem schema has lost its name');
  const paths: Record<string, Json> = {};
  for (const route of allRoutes) {
    const path = (paths[`/api/v1${route.path}`] ??= {});
    path[route.method.toLowerCase()] = operationOf(route);
  }
  return {
    openapi: '3.1.0',
    info: {
      title: 'Kedge API',
      version: '1',
      description:
        'Hydraulic workholding: circuits, settings, sizing records. Pressures are gauge. Figures support, never replace, ' +
        'the judgement of a competent person. Kedge is not a safety function.',
      license: { name: 'Apache-2.0', identifier: 'Apache-2.0' },
    },
    servers: [{ url: '/' }],
    security: [{ session: [] }],
    paths,
    components: {
      schemas: componentSchemas(),
      securitySchemes: { session: { type: 'apiKey', in: 'cookie', name: '__Host-kedge-session' } },
    },
  };
}
