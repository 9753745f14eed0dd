import type { Answer, Audience, Reading, Settings } from '../../../rules/types.ts';
import { pointsRead } from '../../place/reads.ts';
import type { Part } from '../../types.ts';
import { isNote } from '../stand/notes.ts';
import { plateKnown } from '../stand/plate.ts';
import { pointWords } from '../stand/points.ts';
import type { Saying } from '../stand/said.ts';
import { newest, type Standing } from '../stand/standing.ts';
import { bandSources, byPlate } from '../words/numbers.ts';
import { spokenTo } from '../words/speaker.ts';
import { evidenceRow } from './evidence.ts';
import { plateShown } from './plate-words.ts';

/** Every new answer said back: what it was taken as, what it means, what it rules out. Cautions for work above the person's level. */
export function echo(x: Saying, added: readonly Answer[], before: Standing): Part[] {
  const parts: Part[] = [];
  const told = added.filter((a) => !isNote(a));
  for (const a of told) if (a.act === 'set') parts.push(...setEcho(x, a));
  const readings = told.flatMap((a) => x.at.facts.readings.filter((r) => r.seq === a.seq));
  parts.push(
    ...choicesEcho(
      x,
      readings.filter((r) => x.k.facts.get(r.fact)?.kind === 'choice'),
    ),
  );
  for (const r of readings) if (x.k.facts.get(r.fact)?.kind === 'quantity') parts.push({ kind: 'say', text: readingEcho(x, r) });
  const gone = x.at.c.conclusion || !readings.length ? '' : ruledOut(x, before);
  if (gone) parts.push({ kind: 'say', text: gone });
  for (const caution of new Set(readings.flatMap((r) => aboveLevel(x, r)))) parts.push({ kind: 'caution', text: caution });
  return parts;
}

function setEcho({ s, at }: Saying, a: Settings): Part[] {
  if (a.set.families) {
    const titles = a.set.families.map(s.family);
    return [{ kind: 'say', text: s.say('noted', { what: s.say('complaint-label'), value: titles.join('; ') }) }];
  }
  const plate = a.set.machine?.plate;
  if (plate) return [{ kind: 'say', text: s.say('noted-plate', { plate: plateShown(plate, at.facts.units) }) }];
  return [];
}

// A list answered as a whole is one sentence, not fourteen: what it named, or that it named none.
function choicesEcho({ k, s, at }: Saying, readings: readonly Reading[]): Part[] {
  const byCheck = new Map<string, Reading[]>();
  for (const r of readings) byCheck.set(r.check ?? r.fact, [...(byCheck.get(r.check ?? r.fact) ?? []), r]);
  return [...byCheck].map(([id, group]) => {
    const none = k.checks.get(id)?.choices?.none ?? {};
    const named = group.length > 1 ? group.filter((r) => none[r.fact] !== r.value) : group;
    if (!named.length) return { kind: 'say' as const, text: s.say('noted-none') };
    const text = named
      .map((r) =>
        s.say(r.replaces === undefined ? 'noted' : 'corrected', { what: s.fact(r.fact), value: s.choice(r.fact, r.value) }),
      )
      .join(' ');
    const doubted = named.some((r) => at.c.verdicts.find((v) => v.seq === r.seq)?.standing === 'doubted');
    return { kind: 'say' as const, text: doubted ? `${text} ${s.say('doubted')}` : text };
  });
}

/** "I have 10.7 Ω for the coil, red lead on ..., plug out. That is good: expected 8.2 to 12 Ω, from ..." */
function readingEcho(x: Saying, r: Reading): string {
  const { k, s, at } = x;
  const row = evidenceRow(x, r);
  const check = r.check ? k.checks.get(r.check) : undefined;
  const points = pointsRead(k, at.p.circuits[0], r);
  const where = points ? pointWords(x, r.fact, points) : '';
  const state = k.states.has(r.state) ? s.of('states', r.state) : '';
  const name = r.replaces !== undefined ? 'corrected' : r.repeats !== undefined ? 'again-reading' : 'reading';
  const first = s.say(name, { what: row.label, value: row.shown, where: [where, state].filter(Boolean).join('; ') });
  const verdict = spokenTo(s.words.general.verdicts[row.verdict].says, s.audience);
  const lines = [`${first} ${verdict}`];
  const v = at.c.verdicts.find((w) => w.seq === r.seq);
  if (v?.healthy && row.expectedShown) {
    const known = plateKnown(at.hand.plate);
    const plate = byPlate(check, r.fact);
    lines.push(s.say('expected', { band: row.expectedShown, from: s.listed(bandSources(s, k, v.healthy, known, plate)) }));
    if (plate && !known) lines.push(s.say('plate-wanted'));
  }
  if (row.because) lines.push(row.because);
  if (row.standing === 'doubted') lines.push(s.say('doubted'));
  return lines.join(' ');
}

function ruledOut({ k, s, at }: Saying, before: Standing): string {
  const live = new Set(at.c.suspects.filter((u) => u.live).map((u) => u.faults.join('+')));
  // What may still stand behind a suspect is not out of the talk: it is looked for once the part is found.
  const behind = new Set(
    at.c.suspects.flatMap((u) => (u.live ? u.faults.flatMap((f) => k.faults.get(f)?.causes.map((c) => c.fault) ?? []) : [])),
  );
  const gone = before.c.suspects.filter(
    (u) => u.live && u.faults.length === 1 && !live.has(u.faults.join('+')) && !behind.has(u.faults[0]!),
  );
  if (!gone.length || !live.size) return '';
  const names = gone.map((u) => s.faults(u.faults));
  return s.say('rules-out', { list: s.listed(names, MOST_NAMED, (n) => s.say('and-more', { n })) });
}
const MOST_NAMED = 4;

/** Work this person would not have been asked to do: taken, judged, and answered with the caution. */
function aboveLevel({ k, s, at }: Saying, r: Reading): string[] {
  const check = r.check ? k.checks.get(r.check) : [...k.checks.values()].find((c) => c.settles.includes(r.fact));
  if (!check || check.level < 2) return [];
  const live = check.level >= 4;
  const yes = (fact: string) => newest(at.facts, fact)?.value === 'yes';
  if (at.facts.audience === 'technician') return live && !yes('qualified') ? [s.say('above-level-live')] : [];
  if (live) return [s.say('above-level-live')];
  return mayOpen(at.facts.audience) && yes('opt_in') ? [] : [s.say('above-level')];
}
const mayOpen = (audience: Audience) => audience === 'homeowner';
