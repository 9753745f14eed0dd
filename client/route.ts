/** Where the page is, kept in the hash so that a reload, a link and the back button all work without the server. */
export type Route =
  | { at: 'start' }
  | { at: 'case'; id: string }
  | { at: 'sheet'; id?: string }
  | { at: 'reading' }
  | { at: 'demo'; name?: string; id?: string; step: number };

export function readRoute(hash: string): Route {
  const [at = '', ...rest] = hash.replace(/^#\/?/, '').split('/').map(decode);
  const [first, second, third] = rest;
  if (at === 'case' && first) return { at, id: first };
  if (at === 'sheet') return first ? { at, id: first } : { at };
  if (at === 'reading') return { at };
  if (at === 'demo') return { at, ...(first && { name: first }), ...(second && { id: second }), step: Number(third) || 0 };
  return { at: 'start' };
}

export function hashOf(route: Route): string {
  const parts: (string | number | undefined)[] =
    route.at === 'start'
      ? []
      : route.at === 'demo'
        ? [route.at, route.name, route.id, route.id && route.step]
        : [route.at, 'id' in route ? route.id : undefined];
  return `#${parts
    .filter((part) => part !== undefined)
    .map((part) => encodeURIComponent(part))
    .join('/')}`;
}

export const go = (route: Route) => {
  location.hash = hashOf(route);
};

/** A hand-typed hash may hold a broken escape; then it is taken as it stands. */
function decode(part: string): string {
  try {
    return decodeURIComponent(part);
  } catch {
    return part;
  }
}
