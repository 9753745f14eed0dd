import type { Consultation, Reading } from '../../../rules/types.ts';
import type { Part } from '../../types.ts';
import { readingWords } from '../stand/ask.ts';
import type { Saying } from '../stand/said.ts';
import { fill } from '../words/speaker.ts';
import { because } from './evidence.ts';

/** The end of a case in words: what it is and what speaks for it, the cause behind, the proof, who comes. */
export function concludeParts(x: Saying): Part[] {
  const { at } = x;
  const c = at.c;
  const referred = onlyReferred(x);
  if (referred.length || !c.conclusion) return referred;
  return [{ kind: 'conclude', text: conclusionText(x, c.conclusion) }, ...followParts(x), ...referParts(x)];
}

function conclusionText(x: Saying, conclusion: NonNullable<Consultation['conclusion']>): string {
  const { s, at } = x;
  const live = at.c.suspects.filter((u) => u.live && u.faults.length);
  const names = conclusion.is === 'confirmed' ? conclusion.faults.map((f) => s.faults([f])) : live.map((u) => s.faults(u.faults));
  const list = names.length ? s.listed(names.slice(0, MOST)) : s.say('not-listed');
  const lines = [fill(s.of('conclusions', conclusion.is), { list })];
  if (conclusion.is !== 'confirmed' && live.length > 1) lines.push(s.say('likely-first', { list: shares(x) }));
  const speaking = [...new Set(forIt(x).map((r) => speaksLine(x, r)))];
  if (speaking.length) lines.push(s.say('speaks-for', { list: speaking.map((line) => `\n- ${line}`).join('') }));
  const hangs = s.audience === 'technician' && conclusion.is === 'confirmed' ? proofsOf(x) : [];
  if (hangs.length) lines.push(s.say('would-change', { list: s.listed(hangs, MOST) }));
  return lines.join('\n\n');
}
const MOST = 5;

/** Readings that speak for what is concluded, confirming ones first, each once. */
export function forIt({ at }: Saying): Reading[] {
  const faults = new Set(at.c.conclusion?.faults);
  const top = at.c.suspects.filter((u) => u.live && u.faults.some((f) => faults.has(f)));
  const seqs = [...new Set([...top.flatMap((u) => u.confirmedBy), ...top.flatMap((u) => u.for)])];
  return seqs.flatMap((seq) => at.facts.readings.filter((r) => r.seq === seq));
}
/** What the conclusion hangs on: the readings that confirm it, by name. */
function proofsOf({ s, at }: Saying): string[] {
  const faults = new Set(at.c.conclusion?.faults);
  const seqs = at.c.suspects.filter((u) => u.live && u.faults.some((f) => faults.has(f))).flatMap((u) => u.confirmedBy);
  const facts = seqs.flatMap((seq) => at.facts.readings.filter((r) => r.seq === seq).map((r) => r.fact));
  return [...new Set(facts)].map((fact) => s.fact(fact));
}
function speaksLine(x: Saying, r: Reading): string {
  const v = x.at.c.verdicts.find((w) => w.seq === r.seq);
  const why = v && v.is !== 'noted' ? because(x, r, v) : '';
  return [`${readingWords(x, r)}.`, why].filter(Boolean).join(' ');
}

/** "a burnt-out element (about 60 in 100)": likeliest first. */
export function shares({ s, at }: Saying, most = MOST): string {
  const all = at.c.suspects.filter((u) => u.live && u.faults.length);
  const total = all.reduce((sum, u) => sum + u.share, 0) || 1;
  return all
    .slice(0, most)
    .map((u) => `\n- ${s.faults(u.faults)} (${Math.max(1, Math.round((u.share / total) * 100))} %)`)
    .join('');
}

/**
 * The cause behind the failed part, then the proof of the repair, then the close-out. Beside a case `before` this turn only what is new,
 * and how far the proofs have come: a technician who takes twenty of them has read the repair once.
 */
export function followParts(x: Saying, before?: Saying): Part[] {
  const lines = followLines(x);
  const had = new Set(before ? followLines(before).map((l) => l.text) : []);
  const anew = before ? lines.filter((l) => !had.has(l.text) && (!l.list || closedOut(x))) : lines;
  const proofs = x.at.c.followThrough.filter((f) => f.kind === 'proof');
  const done = proofs.filter((f) => f.state !== 'due').length;
  const text = anew.map((l) => l.text);
  if (before && done > 0 && !closedOut(x)) text.push(x.s.say('proof-progress', { done, all: proofs.length }));
  return text.length ? [{ kind: 'explain', text: text.join('\n\n') }] : [];
}
const closedOut = (x: Saying): boolean => x.at.c.followThrough.some((f) => f.kind === 'close-out' && f.state === 'good');

/** `list`: a list that grows or shrinks with every proof taken. */
function followLines(x: Saying): { text: string; list?: boolean }[] {
  const { k, s, at } = x;
  const lines: { text: string; list?: boolean }[] = [];
  const steps = at.c.followThrough;
  const named = (kind: string, state: string) => steps.filter((f) => f.kind === kind && f.state === state).map((f) => f.item);
  const due = named('cause', 'due');
  const found = named('cause', 'failed');
  const cleared = named('cause', 'good');
  if (s.audience === 'technician') {
    const repairs = [...new Set((at.c.conclusion?.faults ?? []).map((f) => k.faults.get(f)!.end.repair))];
    if (at.c.conclusion?.is === 'confirmed')
      for (const id of repairs) lines.push({ text: s.say('repair', { text: k.repairs.get(id)?.text ?? id }) });
    if (due.length)
      lines.push({
        text: s.say('cause-behind', {
          list: s.listed(
            due.map((f) => s.fault(f)),
            MOST,
            (n) => s.say('and-more', { n }),
          ),
        }),
      });
    if (found.length) lines.push({ text: s.say('cause-found', { list: s.listed(found.map((f) => s.fault(f))) }) });
    if (cleared.length) lines.push({ text: s.say('cause-cleared', { list: s.listed(cleared.map((f) => s.fault(f))) }) });
    // On one line: two dozen of them would push the repair off a phone's screen, and the sheet onto a second page.
    const proofs = (state: string) => named('proof', state).map(s.checkName).join(' · ');
    for (const [state, name] of [
      ['due', 'proof'],
      ['good', 'proof-good'],
      ['failed', 'proof-failed'],
    ] as const) {
      const list = proofs(state);
      if (list) lines.push({ text: s.say(name, { list: `${list}.` }), list: state !== 'failed' });
    }
    if (closedOut(x)) lines.push({ text: s.say('close-out') });
  }
  lines.push(...powerStaysOff(x, named('proof', 'due')));
  return lines;
}

/** After a danger that was made safe: what was told dead is all that is told here, and what asks for power waits. */
function powerStaysOff({ s, at }: Saying, proofsDue: readonly string[]): { text: string }[] {
  if (!at.c.madeSafe.length) return [];
  const out = [{ text: s.say('no-power-back', { signs: s.listed(at.c.madeSafe.map((sign) => s.stop(sign))) }) }];
  const begun = at.c.followThrough.some((f) => f.kind === 'proof' && f.state !== 'due');
  if (begun && proofsDue.length && !at.c.next)
    out.push({ text: s.say('proofs-wait', { list: s.listed(proofsDue.map(s.checkName)) }) });
  return out;
}

/** Who comes, in order; may it be used; how soon; parts and minutes for those who plan the visit; readings for the electrician. */
export function referParts(x: Saying): Part[] {
  const { s, at } = x;
  const r = at.c.referral;
  if (!r) return [];
  const lines = [s.of('referrals', r.kind)];
  const [first, ...then] = r.trades.map((t) => s.of('trades', t));
  if (first) lines.push(then.length ? s.say('who-then', { first, then: s.listed(then) }) : s.say('who-comes', { who: first }));
  lines.push(s.of('mayUse', r.mayUse), s.of('priorities', String(r.priority)));
  if (s.audience !== 'homeowner') {
    if (r.parts.length) lines.push(s.say('parts', { list: s.listed(r.parts.map(s.name)) }));
    if (r.visit_min) lines.push(s.say('visit', { min: r.visit_min }));
  }
  const out = writtenOut(x);
  if (out.length) lines.push(s.say('readings-out', { list: out.map((t) => `\n- ${t}`).join('') }));
  lines.push(s.say('close-note'));
  return [{ kind: 'refer', text: lines.join('\n\n') }];
}

/** Readings an electrician or the power company is given in writing. */
export function writtenOut(x: Saying): string[] {
  const r = x.at.c.referral;
  if (!r?.trades.some((t) => t === 'electrician' || t === 'utility')) return [];
  return x.at.facts.readings.filter((q) => r.readings.includes(q.seq)).map((q) => readingWords(x, q));
}

/** A complaint that is known, made safe and handed on: its parts are not in here. */
function onlyReferred(x: Saying): Part[] {
  const { k, s, at } = x;
  const { families } = at.facts;
  if (!families.length || at.c.next) return [];
  if (!families.every((id) => k.families.get(id)?.referOnly))
    return at.c.conclusion ? [] : [{ kind: 'conclude', text: s.say('nothing-to-ask') }];
  return [
    {
      kind: 'conclude',
      text: s.say('family-only-referred', { family: s.listed(families.map(s.family)) }),
    },
    ...referParts(x),
  ];
}
