import { apart } from './across.ts';
import { type Context, denied, groupHits, type Span } from './context.ts';
import kinds from './lexicon/kinds.json' with { type: 'json' };

/** Does the phrase itself begin with a no ("no continuity", "not running")? */
export const turned = (c: Context, h: Span): boolean => c.lexicon.data.grammar.denials.includes(c.tokens[h.from]?.text ?? '');

/** A state of the knowledge, by id: one of those words tell. */
export type StateName = string;
/** The state said with each value: "239.8 idle and 231 under load". A state said once, not right beside one of several, is for all. */
export function statesOf<V extends Span>(c: Context, list: readonly V[]): Map<V, StateName> {
  const hits = Object.entries(kinds.saidState).flatMap(([group, state]) =>
    groupHits(c, group).map((h) => ({ from: h.from, to: h.to, state })),
  );
  const said = joined(
    hits
      .filter((h) => !hits.some((o) => o !== h && o.from <= h.from && o.to >= h.to && o.to - o.from > h.to - h.from))
      .filter((h) => !denied(c, h) || turned(c, h)),
  );
  const out = new Map<V, StateName>();
  const kindsSaid = new Set(said.map((h) => h.state));
  const [only] = said;
  if (!only) return out;
  if (kindsSaid.size === 1 && (list.length === 1 || said.length === 1)) {
    const inside = list.some((q) => q.to <= only.from) && list.some((q) => q.from >= only.to);
    if (!inside || list.length === 1) {
      for (const q of list) out.set(q, only.state);
      return out;
    }
  }
  if (said.length === list.length) {
    const inOrder = [...said].sort((a, b) => a.from - b.from);
    list.forEach((q, i) => {
      const h = inOrder[i];
      if (h) out.set(q, h.state);
    });
    return out;
  }
  for (const q of list) {
    const near = [...said].sort((a, b) => apart(c, q, a) - apart(c, q, b))[0];
    if (near && !list.some((o) => o !== q && apart(c, o, near) < apart(c, q, near))) out.set(q, near.state);
  }
  return out;
}

/** Words that run on tell one state once: "running on high heat", "with heat called". */
function joined<H extends Span & { state: StateName }>(hits: readonly H[]): H[] {
  const out: H[] = [];
  for (const h of [...hits].sort((a, b) => a.from - b.from)) {
    const last = out.at(-1);
    if (last && last.state === h.state && h.from <= last.to) out[out.length - 1] = { ...last, to: Math.max(last.to, h.to) };
    else out.push(h);
  }
  return out;
}
