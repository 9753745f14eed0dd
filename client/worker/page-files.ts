declare const __ASSETS__: string[];
declare const __VERSION__: string;

const CACHE = `page-${__VERSION__}`;
const PAGE = '/';
/** Files beside the page that keep their names. */
const BESIDE = ['/icon.svg', '/icon-192.png', '/icon-512.png', '/icon-maskable-512.png', '/app.webmanifest'];

/** Keeps the page and all it is made of. */
export const keepPage = async (): Promise<void> => {
  const cache = await caches.open(CACHE);
  await cache.addAll([PAGE, ...BESIDE, ...__ASSETS__]);
};

/** Earlier versions of the page go. */
export const dropOthers = async (): Promise<void> => {
  const names = (await caches.keys()).filter((name) => name !== CACHE);
  await Promise.all(names.map((name) => caches.delete(name)));
};

/** @returns undefined for what is none of the page's files */
export function pageFile(request: Request): Promise<Response> | undefined {
  const { pathname } = new URL(request.url);
  if (request.mode === 'navigate' && pathname === PAGE) return newestPage(request);
  if (__ASSETS__.includes(pathname) || BESIDE.includes(pathname)) return keptFile(request);
  return undefined;
}

/** The network first, so that a new version shows at once; what is kept when there is none. */
async function newestPage(request: Request): Promise<Response> {
  try {
    const fresh = await fetch(request);
    if (fresh.ok) return fresh;
  } catch {
    // Offline: the kept page below is the answer.
  }
  return (await caches.match(PAGE)) ?? Response.error();
}

/** Files with a hash in their name never change, and the others are kept for one version: the kept one is the right one. */
async function keptFile(request: Request): Promise<Response> {
  return (await caches.match(request)) ?? fetch(request);
}
