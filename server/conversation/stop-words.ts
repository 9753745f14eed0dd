import type { Part } from '../types.ts';
import type { Saying } from './said.ts';
import { fill, spokenTo } from './words/speaker.ts';

export interface Region {
  /** "US", "GB", ... ; absent = words that hold anywhere. */
  region?: string | undefined;
}

/**
 * What must be done now: every stop that holds, the person first (their order is the rules'). A sentence that touches what is
 * silenced is said another way or left out, a call for help never; one said already is not said again. Then who comes, and the closing line. Nothing else belongs in such a reply.
 * `still`: the same stops were said in the turn before.
 */
export function stopParts(x: Saying, { region }: Region, still: boolean): Part[] {
  const { k, s, at } = x;
  // What a danger that holds forbids is forbidden for good; what is only held back until the gas question is answered is said with its "if".
  const forbidden = new Set(at.c.stops.flatMap((held) => held.suppresses));
  const heldBack = new Set(at.c.silenced);
  const said = new Set<string>();
  const parts: Part[] = [];
  for (const held of at.c.stops) {
    const stop = k.stops.get(held.sign)!;
    const lines = ((region === undefined ? undefined : s.stopLines(stop.id, region)) ?? s.stopLines(stop.id, 'default') ?? [])
      .map((line) => {
        if (line.touches.some((t) => forbidden.has(t))) return line.otherwise;
        return line.touches.some((t) => heldBack.has(t)) ? line.gasUnknown : line.text;
      })
      .filter((text) => text !== undefined)
      .map((text) => fill(text, numbers(x, region)))
      .filter((text) => !said.has(text));
    for (const text of lines) said.add(text);
    const more = s.words.stops[stop.id]?.more;
    if (more) lines.push(spokenTo(more, s.audience));
    const title = s.say(still ? 'stop-still' : 'stop-title', { title: s.stop(stop.id) });
    parts.push({ kind: 'stop', text: [`**${title}**`, ...lines].join('\n\n') });
  }
  const liftable = at.c.stops.every((x) => x.standsUntil === 'made safe');
  const close = [s.say('stop-close')];
  if (at.c.referral?.trades.length)
    close.push(s.say('stop-then-who', { who: s.listed(at.c.referral.trades.map((t) => s.of('trades', t))) }));
  if (liftable && s.audience === 'technician') close.push(s.say('stop-close-made-safe'));
  parts.push({ kind: 'stop', text: close.join(' ') });
  return parts;
}

function numbers({ k, s }: Saying, region: string | undefined): Record<string, string> {
  return Object.fromEntries(
    Object.entries(k.numbers ?? {}).map(([name, by]) => [
      name,
      s.name((region === undefined ? undefined : by[region]) ?? by.default ?? name),
    ]),
  );
}
