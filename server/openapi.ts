import { z } from 'zod';
import pkg from '../package.json' with { type: 'json' };

/** One route as the documents tell it. The same list makes OpenAPI, the page for people, and the tests' check of real answers. */
export interface RouteDoc {
  method: 'get' | 'post' | 'put' | 'patch';
  /** With {braces} round parameters. */
  path: string;
  summary: string;
  params?: z.ZodObject;
  query?: z.ZodObject;
  body?: z.ZodType;
  /** status -> content type -> shape */
  answers: Record<number, Record<string, z.ZodType>>;
  errors: number[];
}

const ERRORS: Record<number, string> = {
  400: 'Not readable: not JSON, or not in the shape of this route',
  404: 'No such case, answer or talk',
  409: 'The case changed meanwhile; `rev` is its revision now',
  413: 'More than 32 kB',
  422: 'Readable, but not possible; `message` says why',
  429: 'Too many requests; try again after `wait_s` seconds',
  500: 'Something went wrong inside',
};

/** OpenAPI 3.1 speaks JSON Schema 2020-12, so what zod prints fits as it is; only shared shapes move to `components`. */
export function document(routes: readonly RouteDoc[]) {
  const schemas: Record<string, unknown> = {};
  const shape = (schema: z.ZodType, io: 'input' | 'output') => {
    const text = JSON.stringify(z.toJSONSchema(schema, { io })).replaceAll('"#/$defs/', '"#/components/schemas/');
    const { $schema: _, $defs, ...rest } = JSON.parse(text) as Record<string, unknown>;
    Object.assign(schemas, $defs);
    return rest;
  };
  const parameters = (where: 'path' | 'query', object?: z.ZodObject) =>
    Object.entries(object?.shape ?? {}).map(([name, schema]) => ({
      name,
      in: where,
      required: where === 'path',
      schema: shape(schema as z.ZodType, 'output'),
    }));
  const content = (types: Record<string, z.ZodType>) =>
    Object.fromEntries(Object.entries(types).map(([type, schema]) => [type, { schema: shape(schema, 'output') }]));

  const paths: Record<string, Record<string, unknown>> = {};
  for (const r of routes) {
    paths[r.path] ??= {};
    paths[r.path]![r.method] = {
      summary: r.summary,
      operationId: `${r.method}${r.path.replace(/[^a-z]+(.)?/gi, (_, letter?: string) => (letter ?? '').toUpperCase())}`,
      parameters: [...parameters('path', r.params), ...parameters('query', r.query)],
      ...(r.body && { requestBody: { required: true, content: { 'application/json': { schema: shape(r.body, 'input') } } } }),
      responses: Object.fromEntries([
        ...Object.entries(r.answers).map(([status, types]) => [status, { description: 'Done', content: content(types) }]),
        ...r.errors.map((status) => [status, { $ref: `#/components/responses/${status}` }]),
      ]),
    };
  }
  const error = { schema: { $ref: '#/components/schemas/Error' } };
  schemas.Error = {
    type: 'object',
    properties: {
      error: { type: 'object', properties: { code: { type: 'string' }, message: { type: 'string' } }, required: ['code'] },
    },
    required: ['error'],
  };
  const responses = Object.fromEntries(
    Object.entries(ERRORS).map(([status, description]) => [status, { description, content: { 'application/json': error } }]),
  );
  return {
    openapi: '3.1.0',
    info: { title: 'Cold Drum', version: pkg.version, description: pkg.description },
    paths,
    components: { schemas, responses },
  };
}
