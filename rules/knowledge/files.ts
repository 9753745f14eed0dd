/// <reference types="vite/types/importMeta.d.ts" />

/** Every JSON file of this folder, carried inside whatever is built. A new file needs no line here; one nobody knows is a problem at load. */
const found = import.meta.glob<unknown>(['./*.json', './machines/*.json', './rules/*.json', '!./thermistors.json'], {
  import: 'default',
  eager: true,
});

/** Our own files of knowledge, by their path below this folder. */
export const FILES: Readonly<Record<string, unknown>> = Object.fromEntries(
  Object.entries(found).map(([path, file]) => [path.replace('./', ''), file]),
);
