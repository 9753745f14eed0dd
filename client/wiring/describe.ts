import { sentence } from '../words.ts';
import { rowsOf } from './rows.ts';
import type { Wiring, WiringRead } from './types.ts';

export interface Described {
  title: string;
  /** One sentence or two for somebody who does not see the picture. */
  short: string;
  /** What must be so before a lead is laid on. */
  first: string[];
  /** A reading and where its leads go. */
  places: { label: string; words: string[] }[];
  live: string[];
  path: string[];
  suspects: string[];
}

/** All the picture shows, in words. */
export function describe(wiring: Wiring): Described {
  const drawn = rowsOf(wiring, undefined).rows.flatMap((row) =>
    row.is === 'branch' ? [row.branch] : row.is === 'stage' ? row.branches : [],
  );
  const places = wiring.reads.map((read) => ({ label: read.label, words: placeWords(wiring, read) }));
  return {
    title: `Wiring: ${wiring.machine}`,
    short: [
      'From the supply at the top through the cord to the terminal block, then the heater string and the motor string.',
      ...places.slice(0, 1).map(({ label, words }) => `${label}: ${words.join(' ')}`),
    ].join(' '),
    first: [
      ...(wiring.likeliest ? ['More than one kind of machine is still possible. The likeliest is drawn.'] : []),
      ...(wiring.otherwise ? [`Built another way, and drawn so: ${wiring.otherwise.join('; ')}.`] : []),
      ...(wiring.covers.length > 0 ? [`Off first: ${wiring.covers.join(', ')}.`] : []),
      `Set: ${wiring.stateWords}.`,
      wiring.plugged
        ? 'The plug is in. Treat everything inside as live, drawn so or not.'
        : 'The plug is out. Prove that nothing is live before you touch.',
      ...(wiring.lift ? [`Take off first: ${wiring.lift.what}.`] : []),
    ],
    places,
    live: wiring.nodes.filter((n) => n.live).map((n) => sentence(n.name)),
    path: drawn.filter((b) => b.carries).map((b) => sentence(b.part)),
    suspects: drawn
      .filter((b) => b.suspects.length > 0)
      .map((b) => `${sentence(b.part)}: ${b.suspects.map((s) => s.label).join('; ')}`),
  };
}

export function placeWords(wiring: Wiring, read: WiringRead): string[] {
  const clamped = wiring.branches.find((b) => b.id === read.clamp);
  if (clamped) return [`Clamp round: ${clamped.part}.`];
  if (!read.points) return [sentence(`${read.words}.`)];
  const [red, black] = read.points.map((id) => pointWords(wiring, id));
  return [`Red lead: ${red}.`, `Black lead: ${black}.`];
}

function pointWords(wiring: Wiring, id: string): string {
  const node = wiring.nodes.find((n) => n.id === id);
  if (!node) return id;
  const behind = node.covers.at(-1);
  return behind ? `${node.name} (behind: ${behind})` : node.name;
}
