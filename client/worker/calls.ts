/** A request as it can be sent more than once. */
export interface Call {
  method: string;
  /** With its query. */
  path: string;
  body?: string;
  accept?: string;
}

export async function callOf(request: Request): Promise<Call> {
  const { pathname, search } = new URL(request.url);
  return {
    method: request.method,
    path: pathname + search,
    accept: request.headers.get('accept') ?? '*/*',
    ...(request.method !== 'GET' && { body: await request.text() }),
  };
}

export const initOf = ({ method, body, accept = 'application/json' }: Call): RequestInit => ({
  method,
  headers: { accept, ...(body !== undefined && { 'content-type': 'application/json' }) },
  ...(body !== undefined && { body }),
});

export const isTurn = ({ method }: Call): boolean => method !== 'GET';
