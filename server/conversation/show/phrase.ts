import { askedCheck } from '../../../rules/index.ts';
import type { Answer, Consultation } from '../../../rules/types.ts';
import { escapeMarkdown } from '../../markdown.ts';
import type { Ask, ExplainedReply, Part, Talk } from '../../types.ts';
import type { Moment } from '../stand/moment.ts';
import { isNoteOf, timesLost } from '../stand/notes.ts';
import type { Wrong } from '../stand/plate.ts';
import type { Saying } from '../stand/said.ts';
import type { Standing } from '../stand/standing.ts';
import { WHICH, type Which, whichAsk } from '../stand/which.ts';
import type { Put } from '../words/speaker.ts';
import { concludeParts, followParts } from './conclude.ts';
import { curvesOf } from './curves.ts';
import { echo } from './echo.ts';
import { evidenceRows, finite, progress, suspectRows } from './evidence.ts';
import { example, talkPart } from './explain.ts';
import { outlookOf } from './outlook.ts';
import { type BesideStop, stopReply } from './stop-answers.ts';
import type { Region } from './stop-words.ts';
import { wiringOf } from './wiring.ts';

/** What happened in a turn, beyond the case as it now stands. */
export interface Happened {
  /** The case before the turn; absent when it is only looked at. */
  before?: Standing;
  beforeAsk?: Ask | undefined;
  added: readonly Answer[];
  talk?: readonly { what: Talk; of?: string }[];
  topics?: readonly string[];
  wrong?: readonly Wrong[];
  unknownFamily?: boolean;
  /** Words of ours said first: taken back, kept, moved to another complaint. */
  first?: readonly string[];
  which?: Which | undefined;
  /** What was asked and told as it is heard while a stop stands. */
  inStop?: BesideStop['heard'] | undefined;
}

/** The reply to a turn. Stops first and alone, with answers to what was asked of them; else what was asked beside, what was told, the end or the one question. */
export function phrase(x: Moment, h: Happened, region: Region): ExplainedReply {
  const { at } = x;
  const asked = askedOf(x, h);
  const parts = [...partsBefore(x, h, region, asked.ask), ...askParts(x, asked)];
  const outlook = outlookOf(x, asked.is === 'waits' ? undefined : asked.shown);
  return {
    parts: parts.length ? parts : [nothingElse(x)],
    ...(asked.shown && { ask: asked.shown }),
    ...(at.c.stops.length > 0 && { stops: heldStops(at.c) }),
    ...(at.c.conclusion && { conclusion: at.c.conclusion }),
    evidence: evidenceRows(x),
    suspects: suspectRows(x),
    progress: progress(x),
    curves: curvesOf(x, asked.shown),
    ...(outlook && { outlook }),
    consultation: plain(at.c),
  };
}

/** The stops that stand, each with the facts that its rule saw. */
const heldStops = ({ stops, trace }: Consultation): NonNullable<ExplainedReply['stops']> =>
  stops.map(({ sign, rule, standsUntil }) => {
    const held = trace.filter((t) => t.set === 'stops' && t.truth === 'holds' && t.rule === rule);
    return { sign, standsUntil, saw: [...new Set(held.flatMap((t) => Object.keys(t.saw)))] };
  });

/** The one question of a reply: what waits for an answer, a sentence asked back, or what the case asks next. */
interface Asked {
  is: 'waits' | 'which' | 'open';
  ask: Ask | undefined;
  /** As it is put this time, and drawn. */
  shown: Ask | undefined;
}
function askedOf(x: Moment, h: Happened): Asked {
  const waits = x.readBack ?? x.danger;
  if (waits) return { is: 'waits', ask: waits, shown: waits };
  const which = whichAsk(x, h.which);
  if (which) return { is: 'which', ask: which, shown: which };
  const { open } = x;
  return { is: 'open', ask: open, shown: open && { ...open, text: promptText(x, open, h), ...drawn(x, open) } };
}

/** The circuit in which a reading is asked. */
function drawn(x: Moment, open: Ask): Pick<Ask, 'wiring'> {
  const wiring = x.at.c.next && wiringOf(x, askedCheck(x.k, x.at.c.next), open.reads);
  return wiring ? { wiring } : {};
}

/** Where nothing is asked any more there is an answer all the same. */
const nothingElse = ({ s, at }: Saying): Part => ({
  kind: 'say',
  text: s.say(timesLost(at.answers) > 0 ? 'not-understood-at-end' : 'stands-at-end'),
});

function partsBefore(x: Moment, h: Happened, region: Region, ask: Ask | undefined): Part[] {
  const { s, at } = x;
  const say = (kind: Part['kind']) => (text: string) => ({ kind, text });
  const first = (h.first ?? []).map(say('say'));
  if (at.c.stops.length) {
    const beside = h.inStop && { heard: h.inStop, talk: h.talk ?? [], topics: h.topics ?? [] };
    const still = sameStops(h.before?.c, at.c);
    // A correction that waits for its "yes" is read with the whole stop before it.
    const inFull = x.readBack !== undefined;
    return [...first, ...stopReply(x, region, beside, still, inFull)];
  }
  const parts: Part[] = [...first];
  if (!at.answers.length) parts.push(say('say')(s.say('welcome')), say('caution')(s.say('safety-note')));
  parts.push(...(h.topics ?? []).map(say('caution')));
  parts.push(...(h.talk ?? []).map((t) => talkPart(x, t, ask)));
  parts.push(...(h.wrong ?? []).map((w) => say('say')(s.problem(w.code, escaped(w.put)))));
  if (h.unknownFamily) parts.push(say('say')(s.say('family-unknown')));
  if (h.before) parts.push(...echo(x, h.added, h.before));
  const known = h.before && sameEnd(h.before.c, at.c);
  if (!known) parts.push(...concludeParts(x));
  else if (h.before && h.added.length) parts.push(...followParts(x, { ...x, at: h.before }));
  return parts;
}

function askParts({ s }: Saying, { is, shown: ask }: Asked): Part[] {
  if (!ask) return [];
  const cautions = is === 'waits' ? [] : ask.cautions.map((text): Part => ({ kind: 'caution', text }));
  const mark = ask.check === WHICH ? (i: number) => `${i + 1}.` : () => '-';
  const list = ask.kind === 'many' || ask.check === WHICH;
  const options = list
    ? `\n\n${listed(ask)
        .map((line, i) => `${mark(i)} ${line}`)
        .join('\n')}`
    : '';
  const script = ask.script === undefined ? '' : `\n\n${s.say('script', { line: ask.script })}`;
  return [...cautions, { kind: 'ask', text: ask.text + options + script }];
}

/** A long list in lines that can be read at a glance: what stands under one line follows it. */
function listed({ choices, groups = [] }: Ask): string[] {
  const groupOf = new Map(groups.flatMap((g) => g.of.map((id) => [id, g] as const)));
  const label = (id: string) => choices.find((c) => c.id === id)?.label ?? id;
  return choices.flatMap((c) => {
    const group = groupOf.get(c.id);
    if (!group) return [c.label];
    return group.of[0] === c.id ? [`${group.label} (${group.of.map(label).join(' · ')})`] : [];
  });
}

/** The question, never in the same words twice running: an example, then the choices, then skipping, then a person. */
function promptText(x: Saying, ask: Ask, h: Happened): string {
  const { s, at } = x;
  // Beside the question ("why?") is not lost: the question is only put again.
  const counts = h.before === undefined || h.added.some((a) => isNoteOf(a, 'not-understood'));
  const lost = counts ? timesLost(at.answers) : 0;
  if (lost > 0) return `${lostWords(x, ask, lost)}\n\n${ask.text}`;
  return h.before && sameAsk(h.beforeAsk, ask) ? s.say('ask-back-to', { ask: ask.text }) : ask.text;
}
// They go round, so that even somebody lost for long never reads the same twice running.
function lostWords(x: Saying, ask: Ask, lost: number): string {
  const { s } = x;
  switch ((lost - 1) % 4) {
    case 0:
      return s.say('not-understood', { example: example(x, ask) });
    case 1:
      // a list of many follows the question anyway
      return s.say('ask-choices', { list: ask.kind === 'many' ? '' : choiceList(x, ask) });
    case 2:
      return s.say('ask-skip', { name: askName(x, ask) });
    default:
      return s.say('ask-person');
  }
}
function choiceList({ s }: Saying, ask: Ask): string {
  const items = ask.choices.length ? ask.choices.map((c) => c.label) : ask.reads.map((r) => `${r.label} (${r.unit})`);
  return items.length ? items.map((t) => `\n- ${t}`).join('') : s.say('sheet-none');
}
const askName = ({ s }: Saying, ask: Ask): string => (s.check(ask.check) ? s.checkName(ask.check) : s.say('complaint-label'));

// A value that is none may be a person's own words.
const escaped = (put: Put): Put =>
  Object.fromEntries(Object.entries(put).map(([name, v]) => [name, typeof v === 'string' ? escapeMarkdown(v) : v]));

const sameAsk = (a: Ask | undefined, b: Ask): boolean =>
  a !== undefined && a.check === b.check && a.of === b.of && a.text === b.text;
const signs = (c: Consultation) => c.stops.map((s) => s.sign).join();
const sameStops = (before: Consultation | undefined, now: Consultation) => before !== undefined && signs(before) === signs(now);
const end = (c: Consultation) => JSON.stringify([c.conclusion, c.referral?.kind, c.referral?.trades]);
const sameEnd = (before: Consultation, now: Consultation) => now.conclusion !== undefined && end(before) === end(now);

/** As JSON can carry it. */
const plain = (c: Consultation): Consultation => ({
  ...c,
  verdicts: c.verdicts.map((v) => (v.healthy ? { ...v, healthy: finite(v.healthy) } : v)),
});
