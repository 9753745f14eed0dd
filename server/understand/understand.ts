import type { Audience, MachineInHand } from '../../rules/types.ts';
import type { Ask, Meaning, Talk, Understood } from '../types.ts';
import { ofAPlace, placesAlone, placesOf } from './across.ts';
import { findAnswers, yesOrNo } from './answers.ts';
import { findTold, toldMeanings } from './complaints.ts';
import { type Context, contextOf } from './context.ts';
import { findCounts } from './counts.ts';
import { findHazards, type HazardsFound } from './hazards.ts';
import { doubtsPhrases, factsOfKind, headsHear, neverDoubted } from './head/danger.ts';
import { type Lexicon, lexiconOf, matchAll, mendSpelling } from './lexicon.ts';
import { findNumbers } from './numbers.ts';
import { plainNo } from './plain-no.ts';
import { findPlate } from './plate.ts';
import { asked, findReadings } from './readings.ts';
import { findTalk } from './talk.ts';
import { readText, type Token } from './tokens.ts';
import { SUPPORTED, tongueOf } from './tongue.ts';
import { findQuantities } from './units.ts';

export type { Lexicon } from './lexicon.ts';

/** More numbers than any visit gives are a paste; the rest of them are not read. */
const MOST_NUMBERS = 24;

/** The kinds of talk that leave no room for another meaning of the same words. */
const ALONE: ReadonlySet<Talk> = new Set<Talk>([
  'undo',
  'restart',
  'later',
  'declined',
  'no-meter',
  'what-is-that',
  'why',
  'person',
  'repeat-question',
  'off-topic',
  'stop',
  'abuse',
  'how-long',
  'cost',
  'safe',
  'may-use',
  'help',
]);

/**
 * What one utterance means. Pure and deterministic; never throws; dangers come first, whatever was asked and in whatever language.
 * @param question the question open now; absent = the opening question
 * @param audience a technician's words about live parts are work, not a danger
 * @param language the language of the case: its tag or its lexicon. What is clearly in another language of ours is read in that, and
 *        `talk language` (with `of`: its tag) says so; of any other language nothing is read but that and dangers in words of ours.
 * @returns acts in the order: dangers, readings and answers, complaints and facts, talk. Nothing understood = no acts.
 *          `left`: what was not read (too long) or not used.
 * @throws RangeError where the language is not one of ours
 */
export function understand(
  utterance: string,
  question: Ask | undefined,
  audience: Audience,
  _machine: Partial<MachineInHand>,
  language: string | Lexicon = 'en',
): Understood {
  const no = question?.about && plainNo(utterance, question.about.signs.length === 1);
  if (no) return { acts: [{ is: 'plain-no', of: no, evidence: utterance.slice(0, 200) }], left: [] };
  const own = typeof language === 'string' ? lexiconOf(language) : language;
  const tongue = tongueOf(utterance, own);
  const spoken = tongue?.supported ? lexiconOf(tongue.tag) : own;
  const read =
    tongue && !tongue.supported ? { acts: [], left: [utterance] } : inOneLanguage(utterance, question, audience, spoken);
  const dangers = tongue && !tongue.supported ? SUPPORTED : SUPPORTED.filter((tag) => tag !== spoken.language);
  const acts = [
    ...foreignDangers(utterance, read.acts, dangers, audience, tongue?.supported === false ? undefined : spoken),
    ...read.acts,
  ];
  if (tongue) acts.push({ is: 'talk', what: 'language', of: tongue.tag, evidence: utterance.slice(0, 200) });
  return { acts, left: acts.length > read.acts.length && !tongue ? read.left.filter((l) => l !== utterance) : read.left };
}

/** Dangers told in words of another language of ours: "huele a gas", "hay fire". A word both languages have is the first one's. */
function foreignDangers(
  utterance: string,
  acts: Meaning[],
  languages: readonly string[],
  audience: Audience,
  own: Lexicon | undefined,
): Meaning[] {
  const out: Meaning[] = [];
  for (const tag of languages) {
    const lexicon = lexiconOf(tag);
    const text = readText(utterance, lexicon.data.spelling);
    const theirs = text.tokens.map((t) => t.kind === 'word' && !own?.vocabulary.has(t.text) && lexicon.vocabulary.has(t.text));
    if (!theirs.some(Boolean)) continue;
    const found = findHazards(contextOf(text, matchAll(text.tokens, lexicon), lexicon));
    for (const h of found.hazards) {
      if (audience === 'technician' && h.fact === 'hands_inside_live' && !h.sure) continue;
      if (
        acts.some((a) => a.is !== 'suspected' && 'fact' in a && a.fact === h.fact) ||
        out.some((a) => 'fact' in a && a.fact === h.fact)
      )
        continue;
      const told = found.stood.some(
        (s) =>
          s.of.kind === 'hazard' &&
          { ...s.of.entry.hazard, ...s.of.entry.also }[h.fact] !== undefined &&
          theirs.slice(s.from, s.to).some(Boolean),
      );
      if (told) out.push(h);
    }
  }
  return out;
}

function inOneLanguage(utterance: string, question: Ask | undefined, audience: Audience, lexicon: Lexicon): Understood {
  const text = readText(utterance, lexicon.data.spelling);
  mendSpelling(text, lexicon);
  const c = contextOf(text, matchAll(text.tokens, lexicon), lexicon);
  const left = text.unread.map(([from, to]) => utterance.slice(from, to));
  if (!text.tokens.some((t) => t.kind !== 'mark') && !text.tokens.some((t) => t.text === '?'))
    return { acts: [], left: utterance.trim() ? [utterance, ...left] : left };

  const found = findHazards(c);
  raised(c, audience, found);
  const hazards =
    audience === 'technician' ? found.hazards.filter((h) => h.fact !== 'hands_inside_live' || h.sure) : found.hazards;
  const talk = findTalk(c);
  // "scratch that" takes back, and with a number behind it puts right
  const taken = talk.findIndex(
    (t) => t.what === (findNumbers(text.tokens, lexicon.data.numbers).length > 0 ? 'undo' : 'correct'),
  );
  if (taken >= 0 && ['undo', 'correct'].every((w) => talk.some((t) => t.what === w))) talk.splice(taken, 1);
  const bypassAsked = talk.some((t) => t.of === 'bypass');
  if (bypassAsked)
    hazards.splice(0, hazards.length, ...hazards.filter((h) => h.fact !== 'bridged_device' || question === undefined));

  const told = findTold(placesAlone(c), found);
  const expects = asked(question);
  const quantities = findQuantities(
    text.tokens,
    findNumbers(text.tokens, lexicon.data.numbers),
    lexicon.data.units,
    expects,
    lexicon.data.numbers,
  );
  const plateAsked = question !== undefined && /plate/.test(question.check) && question.choices.length === 0;
  const listsFamilies =
    question !== undefined && question.choices.length > 0 && question.choices.every((x) => lexicon.families.has(x.id));
  const opening =
    listsFamilies || question === undefined || (question.choices.length === 0 && question.reads.length === 0 && !plateAsked);
  const plate = findPlate(c, quantities, plateAsked, expects !== undefined);
  let rest = quantities.filter((q) => !plate.used.has(q));
  const counts = findCounts(c, rest, expects, new Set(told.families.keys()));
  rest = rest.filter((q) => !counts.used.has(q)).slice(0, MOST_NUMBERS);

  const supply = opening || question?.kind !== 'readings';
  const readings = plateAsked
    ? []
    : findReadings(c, question, supply ? rest.filter((q) => q.what !== 'volts' || !aboutSupply(c, q)) : rest);
  if (hazards.length > 0) readings.splice(0, readings.length, ...readings.filter((r) => r.is !== 'ambiguous'));
  const hasReading = readings.some((r) => r.is === 'reading');
  const choices =
    question !== undefined &&
    question.choices.length > 0 &&
    !(listsFamilies && (told.families.size > 0 || found.hazards.length > 0));
  const only = talk.filter((t) => ALONE.has(t.what));
  let answers = choices && question ? findAnswers(c, question, found.hazards.length > 0) : [];
  const meansTalk = only.length > 0 && answers.every((a) => a.is === 'ambiguous' || ('sure' in a && a.sure === false));
  if (meansTalk && !only.every((t) => t.what === 'abuse')) answers = [];
  // "hang on" is no "on"
  if (talk.some((t) => t.what === 'wait') && answers.every((a) => a.is === 'answer' && !clearYesNo(c))) answers = [];
  const first = text.tokens.find((t) => t.kind === 'word')?.text ?? '';
  if (only.length > 0 && lexicon.data.answerWords.questionWords.includes(first)) answers = [];
  const unsure = talk.some((t) => t.what === 'unsure');
  // where "not sure" stands in the list, it is that answer
  const listed = unsure && answers.length === 0 ? question?.choices.find((x) => saysUnsure(x.label, lexicon)) : undefined;
  if (unsure && choices && question && answers.length > 0 && yesOrNoQuestion(question) && !clearYesNo(c)) answers = [];
  if (listed && question)
    answers = [{ is: 'answer', fact: listed.fact ?? question.check, value: listed.id, evidence: utterance.slice(0, 200) }];
  // "Not" of "not sure", "can't" and "not at the dryer now" alone are no answers: silence stays silence.
  for (const t of talk)
    if (!listed && (t.what === 'unsure' || t.what === 'declined' || t.what === 'later'))
      answers = answers.filter((a) => !sameWords(evidenceOf(a), t.evidence));
  // The words of a danger are that danger, not a lesser one on the list besides: "I smell gas" is no smell of paint.
  for (const h of hazards)
    if (h.is === 'hazard')
      answers = answers.filter(
        (a) =>
          a.is !== 'answer' ||
          a.fact === h.fact ||
          (question !== undefined && yesOrNoQuestion(question)) ||
          !sharesWords(a.evidence, h.evidence) ||
          saysAll(labelOf(question, a), h.evidence),
      );

  // "No gas smell" and "no, that was the other leg" say no to that, not to the question.
  const correcting = talk.some((t) => t.what === 'correct');
  const onlyNo = (words: string) => {
    const said = readText(words, lexicon.data.spelling).tokens.filter((t) => t.kind === 'word');
    return said.length > 0 && said.every((t) => lexicon.data.lists.negators.includes(t.text));
  };
  // Only a plain no clears a list of dangers, and that is a sentence of a closed list.
  if (question?.about) answers = answers.filter((a) => a.is !== 'answer' || a.value !== 'none');
  if (question !== undefined && (correcting || (found.not.length > 0 && !yesOrNoQuestion(question))))
    answers = answers.filter((a) => a.is !== 'answer' || !onlyNo(a.evidence));

  // A line of the list that was named, or may have been, is asked about as such.
  const named = question?.about !== undefined && answers.length > 0;
  const suspected = named ? [] : found.suspected.filter((s) => audience !== 'technician' || s.fact !== 'hands_inside_live');
  const acts: Meaning[] = [...hazards, ...suspected, ...plate.acts];
  // A denial is taken at its word only where nothing else is told with it: "no flame, but it glows in spots" clears nothing.
  const clean = hazards.length === 0 && found.suspected.length === 0 && onlyDenies(c, found);
  const not = found.not
    .filter((n) => !hazards.some((h) => h.fact === n.fact) && !found.suspected.some((s) => s.fact === n.fact))
    .map((n) => (clean ? n : { ...n, sure: false }));
  const quiet = talk.some((t) => t.what !== 'correct' && ALONE.has(t.what)) && !hasReading;
  if (!quiet || hasReading) acts.push(...(quiet ? readings.filter((r) => r.is === 'reading') : readings));
  const across = readings.some((r) => r.is === 'reading' && r.across !== undefined);
  const ofReading = across ? ofAPlace(c) : () => false;
  answers = answers.filter((a) => a.is !== 'answer' || !ofReading(a.evidence));
  const aside = hazards.length > 0 || across;
  acts.push(...(aside ? answers.filter((a) => a.is !== 'ambiguous') : answers));
  const answered = hasReading || answers.some((a) => a.is === 'answer') || plate.acts.length > 0;
  const facts = toldMeanings(c, told).filter((m) => !repeats(m, acts));
  const saysMachine = (tokens: Token[]) => tokens.some((t) => lexicon.data.grammar.theMachine.includes(t.text));
  const notDryer =
    talk.some((t) => t.what === 'not-a-dryer') &&
    (!saysMachine(text.tokens) ||
      talk.some((t) => t.what === 'not-a-dryer' && saysMachine(readText(t.evidence, lexicon.data.spelling).tokens))) &&
    (told.facts.get('other_240') === undefined || (question === undefined && beginsWith(talk, 'not-a-dryer', text.tokens)));
  const hazardFamilies = new Set(
    found.stood.flatMap((h) => (h.of.kind === 'hazard' && h.of.entry.family ? [h.of.entry.family] : [])),
  );
  for (const m of facts) {
    if (
      m.is === 'complaint' &&
      (notDryer || (!opening && (answered || talk.length > 0 || readings.length > 0) && !hazardFamilies.has(m.family)))
    )
      continue;
    if (notDryer && m.is !== 'complaint') continue;
    acts.push(m);
  }
  acts.push(...counts.acts, ...not);

  const complains = acts.some((a) => a.is === 'complaint' || a.is === 'hazard');
  for (const t of talk) {
    if (
      keepTalk(t.what, {
        answered,
        complains,
        opening,
        notDryer,
        choices: answers.length > 0,
        hazard: hazards.length > 0,
        readings: readings.length > 0,
        plateAsked,
      })
    )
      acts.push(t);
  }
  if (!choices && !answered && !complains && readings.length === 0) {
    const said = yesOrNo(c, '', false);
    if (said && said.word !== 'both' && !acts.some((a) => a.is === 'talk'))
      acts.push({ is: 'talk', what: said.word, evidence: utterance.slice(0, 200) });
  }
  if (acts.length === 0) left.unshift(utterance.length > 500 ? utterance.slice(0, 500) : utterance);
  return { acts, left };
}

/** Of fewer words only phrases tell anything: "no idea" and "as always" are answers. */
const LEAST_WORDS = 4;

/**
 * What phrases miss and the heads hear is worth one short question, or a stop where they are sure enough. A phrase that all else
 * speaks against is asked about. Nothing is cleared, and what was plainly denied is not asked.
 */
function raised(c: Context, audience: Audience, found: HazardsFound): void {
  if (c.tokens.filter((t) => t.kind !== 'mark').length < LEAST_WORDS) return;
  if (found.hazards.length > 0) {
    if (found.hazards.some((h) => neverDoubted(h.fact)) || !doubtsPhrases(c, audience, found.stood)) return;
    for (const h of found.hazards) found.suspected.push({ is: 'suspected', fact: h.fact, evidence: h.evidence });
    found.denied.push(...found.stood.splice(0));
    found.hazards = [];
    return;
  }
  const heard = headsHear(c, audience);
  const words = c.text.typed.slice(0, 200);
  for (const kind of heard.kinds) {
    const facts = factsOfKind(kind);
    const [first] = facts;
    if (!first || found.not.some((n) => n.fact === first[0]) || found.suspected.some((s) => s.fact === first[0])) continue;
    if (heard.is === 'stop' && kind === heard.kinds[0])
      found.hazards.push(...facts.map(([fact, value]) => ({ is: 'hazard' as const, fact, value, sure: true, evidence: words })));
    else if (found.hazards.length === 0) found.suspected.push({ is: 'suspected', fact: first[0], evidence: words });
  }
}

/** Does this sentence deny and do little else? A denial within a story is a turn of phrase. */
function onlyDenies(c: Context, found: HazardsFound): boolean {
  const { adversatives } = c.lexicon.data.lists;
  if (c.tokens.some((t) => adversatives.includes(t.text))) return false;
  const words = c.tokens.filter((t) => t.kind !== 'mark').length;
  return words <= 4 + 6 * found.not.length;
}

/** Is "not sure" what this choice says? */
function saysUnsure(label: string, lexicon: Lexicon): boolean {
  const text = readText(label, lexicon.data.spelling);
  return matchAll(text.tokens, lexicon).some(
    (h) => h.of.kind === 'talk' && h.of.entry.talk === 'unsure' && h.from === 0 && h.to === text.tokens.length,
  );
}

/** 240 in "a 240 unit" or "240 volt outlet" is a kind of supply, not a reading. */
function aboutSupply(c: Context, q: { from: number; to: number; value: number }): boolean {
  if (placesOf(c).some((p) => p.from >= q.to && p.from <= q.to + 1)) return false;
  return (
    [110, 115, 120, 208, 220, 230, 240].includes(q.value) &&
    c.tokens.slice(q.to, q.to + 3).some((t) => c.lexicon.data.grammar.supplyThings.includes(t.text))
  );
}

/** Is this what the sentence is about: said within its first words ("my oven won't heat")? */
function beginsWith(talk: { what: Talk; evidence: string }[], what: Talk, tokens: Token[]): boolean {
  const said = talk.find((t) => t.what === what)?.evidence.toLowerCase();
  return said !== undefined && tokens.slice(0, 2).some((t) => said.startsWith(t.raw.toLowerCase()));
}

const evidenceOf = (m: Meaning): string =>
  m.is === 'ambiguous'
    ? m.options[0] && 'evidence' in m.options[0].meaning
      ? String(m.options[0].meaning.evidence)
      : ''
    : m.evidence;
const sameWords = (a: string, b: string): boolean => {
  const [x, y] = [a.trim().toLowerCase(), b.trim().toLowerCase()];
  return x !== '' && y !== '' && (x.includes(y) || y.includes(x));
};
const contentWords = (text: string): string[] =>
  text
    .toLowerCase()
    .split(/[^\p{L}\d]+/u)
    .filter((w) => w.length > 2);
const sharesWords = (a: string, b: string): boolean => contentWords(a).some((w) => contentWords(b).includes(w));
const saysAll = (label: string, said: string): boolean => contentWords(said).every((w) => contentWords(label).includes(w));
const labelOf = (ask: Ask | undefined, a: { value: unknown }): string => ask?.choices.find((x) => x.id === a.value)?.label ?? '';
const yesOrNoQuestion = (ask: Ask): boolean => ask.choices.some((x) => /^yes\b/i.test(x.id));
function clearYesNo(c: Context): boolean {
  const first = c.tokens.find((t) => t.kind === 'word')?.text ?? '';
  const { plainYes, plainNo } = c.lexicon.data.grammar;
  return plainYes.includes(first) || plainNo.includes(first);
}

/** A fact the question or a danger has already given. */
function repeats(m: Meaning, acts: Meaning[]): boolean {
  return 'fact' in m && acts.some((a) => a.is !== 'denied' && 'fact' in a && a.fact === m.fact);
}

interface Around {
  answered: boolean;
  complains: boolean;
  opening: boolean;
  notDryer: boolean;
  choices: boolean;
  hazard: boolean;
  readings: boolean;
  plateAsked: boolean;
}

/** Which turns about the talk still count beside what else was said. */
function keepTalk(what: Talk, a: Around): boolean {
  switch (what) {
    case 'not-a-dryer':
      return a.notDryer && a.opening;
    case 'greeting':
    case 'thanks':
    case 'off-topic':
    case 'help':
      return !a.answered && !a.complains;
    case 'done':
    case 'in-progress':
    case 'wait':
    case 'stop':
      return !a.complains && !a.choices && !a.readings;
    case 'unsure':
    case 'what-is-that':
    case 'declined':
    case 'later':
    case 'why':
      return !a.answered && !(a.opening && a.complains) && !(a.hazard && what !== 'declined');
    case 'abuse':
      return !a.answered && !a.complains;
    case 'repeat-question':
    case 'restart':
    case 'undo':
    case 'how-long':
      return !(a.opening && a.complains);
    case 'no-meter':
      return true;
    default:
      return true;
  }
}
