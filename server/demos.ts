/// <reference types="vite/types/importMeta.d.ts" />
import type { Demos } from './deps.ts';

/** The talks in transcripts-demo, carried inside whatever is built: the server shows the same ones as the offline page. */
const files = import.meta.glob<string>('../transcripts-demo/*.{json,md,txt}', { query: '?raw', import: 'default', eager: true });

/** In the order of their names. A JSON file's title is its `title`, another's its first heading. */
export function demosFrom(texts: Record<string, string> = files): Demos {
  const all = Object.entries(texts)
    .map(([path, text]) => demo(path, text))
    .toSorted((a, b) => (a.name < b.name ? -1 : 1));
  return {
    list: async () => all.map(({ name, title }) => ({ name, title })),
    read: async (name) => all.find((d) => d.name === name),
  };
}

function demo(path: string, text: string) {
  const name = path.replace(/^.*\//, '').replace(/\.\w+$/, '');
  if (!path.endsWith('.json')) return { name, title: /^#\s+(.+)$/m.exec(text)?.[1] ?? name, transcript: text as unknown };
  const transcript: unknown = JSON.parse(text);
  const title = (transcript as { title?: unknown } | null)?.title;
  return { name, title: typeof title === 'string' ? title : name, transcript };
}
