import type { Part } from '../../types.ts';
import type { Saying } from '../stand/said.ts';
import { fill, spokenTo } from '../words/speaker.ts';

export interface Region {
  /** "US", "GB", ... ; absent = words that hold anywhere. */
  region?: string | undefined;
}
/** A sentence of what to do now, as it is said here. */
export interface LineNow {
  text: string;
  /** Acts it asks for (stop-questions.json). */
  does: readonly string[];
}
export interface StopNow {
  sign: string;
  title: string;
  lines: LineNow[];
}

/** Acts told since the danger was told (stop-questions.json). */
export interface Acts {
  done: ReadonlySet<string>;
  /** Those that took another one back. */
  undone: ReadonlySet<string>;
}

/** What the dangers that hold forbid for good, and what is only held back until the gas question is answered. Nobody who is out is sent back. */
export function forbiddenNow({ k, at }: Saying, { done }: Acts): { forbidden: Set<string>; heldBack: Set<string> } {
  const forbidden = new Set(at.c.stops.flatMap((held) => held.suppresses));
  if (forbidden.has('stay-near'))
    for (const act of done) for (const touch of k.stopActs.get(act)?.bars ?? []) forbidden.add(touch);
  return { forbidden, heldBack: new Set(at.c.silenced) };
}

/**
 * Every stop that holds with its sentences, the person first (their order is the rules'). One that touches what is silenced is said
 * another way or left out, a call for help never; one said already is not said again.
 */
export function stopsNow(x: Saying, { region }: Region, acts: Acts): StopNow[] {
  const { k, s, at } = x;
  const { forbidden, heldBack } = forbiddenNow(x, acts);
  const said = new Set<string>();
  return at.c.stops.map(({ sign }): StopNow => {
    const own = (region === undefined ? undefined : s.stopLines(sign, region)) ?? s.stopLines(sign, 'default') ?? [];
    const lines: LineNow[] = [];
    for (const line of own) {
      // What a danger that holds forbids is forbidden for good; what is only held back is said with its "if".
      const turn = line.touches.some((t) => forbidden.has(t))
        ? line.otherwise
        : line.touches.some((t) => heldBack.has(t))
          ? line.gasUnknown
          : line.text;
      const text = turn === undefined ? undefined : fill(turn, numbersToCall(x, region));
      if (text === undefined || said.has(text) || line.until?.some((act) => acts.done.has(act))) continue;
      said.add(text);
      // Said otherwise it asks for something else.
      lines.push({ text, does: turn === line.otherwise && turn !== line.text ? [] : (line.does ?? []) });
    }
    return { sign, title: s.stop(k.stops.get(sign)!.id), lines };
  });
}

/**
 * What must be done now, stop by stop. Then who comes, and the closing line. Nothing else belongs in such a reply.
 * `still`: the same stops were said in the turn before. What is done is not said again.
 */
export function stopParts(x: Saying, stops: readonly StopNow[], still: boolean, { done }: Acts): Part[] {
  const { s, at } = x;
  const parts = stops.map(({ sign, title, lines }): Part => {
    const texts = lines.filter((line) => !isDone(line, done)).map((line) => line.text);
    const more = s.words.stops[sign]?.more;
    if (more) texts.push(spokenTo(more, s.audience));
    const head = s.say(still ? 'stop-still' : 'stop-title', { title });
    return { kind: 'stop', text: [`**${head}**`, ...texts].join('\n\n') };
  });
  const liftable = at.c.stops.every((held) => held.standsUntil === 'made safe');
  const close = [s.say('stop-close')];
  if (at.c.referral?.trades.length)
    close.push(s.say('stop-then-who', { who: s.listed(at.c.referral.trades.map((t) => s.of('trades', t))) }));
  if (liftable && s.audience === 'technician') close.push(s.say('stop-close-made-safe'));
  parts.push({ kind: 'stop', text: close.join(' ') });
  return parts;
}

export const isDone = ({ does }: LineNow, done: ReadonlySet<string>): boolean =>
  does.length > 0 && does.every((act) => done.has(act));

export function numbersToCall({ k, s }: Saying, region: string | undefined): Record<string, string> {
  return Object.fromEntries(
    Object.entries(k.numbers ?? {}).map(([name, by]) => [
      name,
      s.name((region === undefined ? undefined : by[region]) ?? by.default ?? name),
    ]),
  );
}
