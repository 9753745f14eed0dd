import type { Law } from './law.ts';

const JUMPER = /\bjumper|bridge it|bypass the/i;

/** No text, for nobody, speaks of taking a safety part out of circuit. */
export const noJumper: Law = ({ loaded }) => [
  ...Object.entries(loaded.lists).flatMap(([path, items]) =>
    (items as { id: string }[]).flatMap((item) => found(`${path}, "${item.id}"`, item)),
  ),
  ...Object.entries(loaded.singles).flatMap(([path, item]) => found(path, item)),
  ...found('needs.json, cautions', loaded.beside.cautions),
];

function found(where: string, value: unknown): string[] {
  if (typeof value === 'string') {
    const [bad] = JUMPER.exec(value) ?? [];
    return bad === undefined ? [] : [`${where}: "${bad}" speaks of taking a safety part out of circuit; no text may, for nobody`];
  }
  return typeof value === 'object' && value !== null ? Object.values(value).flatMap((held) => found(where, held)) : [];
}
