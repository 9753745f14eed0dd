import { word } from '../say.ts';
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
    title: word('wiring-title', { machine: wiring.machine }),
    short: [word('wiring-short'), ...places.slice(0, 1).map(({ label, words }) => `${label}: ${words.join(' ')}`)].join(' '),
    first: [
      ...(wiring.likeliest ? [word('wiring-likeliest')] : []),
      ...(wiring.otherwise ? [word('wiring-otherwise', { ways: wiring.otherwise.join('; ') })] : []),
      ...(wiring.covers.length > 0 ? [word('wiring-covers', { covers: wiring.covers.join(', ') })] : []),
      word('wiring-state', { state: wiring.stateWords }),
      word(whatIsLive(wiring)),
      ...(wiring.lift ? [word('wiring-lift', { lead: wiring.lift.what })] : []),
    ],
    places,
    live: wiring.nodes.filter((n) => n.live).map((n) => sentence(n.name)),
    path: drawn.filter((b) => b.carries).map((b) => sentence(b.part)),
    suspects: drawn
      .filter((b) => b.suspects.length > 0)
      .map((b) => `${sentence(b.part)}: ${b.suspects.map((s) => s.label).join('; ')}`),
  };
}

/** Is a lead laid on something live, and where does it end? */
function whatIsLive(wiring: Wiring) {
  if (wiring.plugged) return 'wiring-plugged';
  if (wiring.offAt === 'breaker') return 'wiring-breaker-off';
  const live = new Set(wiring.nodes.filter((n) => n.live).map((n) => n.id));
  return wiring.reads.some(({ points }) => points?.some((p) => live.has(p))) ? 'wiring-outlet-live' : 'wiring-unplugged';
}

export function placeWords(wiring: Wiring, read: WiringRead): string[] {
  const clamped = wiring.branches.find((b) => b.id === read.clamp);
  if (clamped) return [word('wiring-clamp', { part: clamped.part })];
  if (!read.points) return [sentence(`${read.words}.`)];
  const [red, black] = read.points;
  return [word('wiring-red', { point: pointWords(wiring, red) }), word('wiring-black', { point: pointWords(wiring, black) })];
}

function pointWords(wiring: Wiring, id: string): string {
  const node = wiring.nodes.find((n) => n.id === id);
  if (!node) return id;
  const behind = node.covers.at(-1);
  return behind ? word('wiring-behind', { point: node.name, cover: behind }) : node.name;
}
