import type { Ask, Meaning } from '../types.ts';
import { type Context, denied, evidence, groupHits, overlaps, type Span } from './context.ts';
import { foldAccents } from './tokens.ts';

type Choice = Ask['choices'][number];

/** Answers to a question with choices: by yes and no, by name, by place in the list, by description. */
export function findAnswers(c: Context, ask: Ask, hazardFound: boolean): Meaning[] {
  const yes = ask.choices.find((x) => isYes(c, x));
  const no = ask.choices.find((x) => isNo(c, x));
  if (yes && no && ask.choices.length <= 4) {
    const said = yesOrNo(c, ask.text, hazardFound);
    if (said?.word === 'both') return [askBack(c, ask, [yes, no], 'contradicts')];
    const sure = said?.sure === true && !(said.word === 'yes' && inPassing(c));
    if (said) return [answer(ask, said.word === 'yes' ? yes : no, c, said.span, sure)];
    return [];
  }
  return byName(c, ask);
}

/** "Ok" alone agrees to go on; it states nothing. */
const inPassing = (c: Context): boolean =>
  c.tokens.every((t) => t.kind === 'mark' || c.lexicon.data.grammar.inPassing.includes(t.text));

/** The choice that is plainly yes, or no: by its id, which is ours, or by the first word of its label. */
export const isYes = (c: Context, x: Choice): boolean =>
  x.id === 'yes' || c.lexicon.data.grammar.plainYes.includes(firstWord(x.label));
export const isNo = (c: Context, x: Choice): boolean =>
  x.id === 'no' || c.lexicon.data.grammar.plainNo.includes(firstWord(x.label));
const firstWord = (label: string): string => foldAccents(/[\p{L}\d]+/u.exec(label.toLowerCase())?.[0] ?? '');

function answer(ask: Ask, choice: Choice, c: Context, s: Span, sure = true): Meaning {
  return {
    is: 'answer',
    fact: choice.fact ?? ask.check,
    value: choice.id,
    ...(sure ? {} : { sure: false }),
    evidence: evidence(c, s),
  };
}

function askBack(c: Context, ask: Ask, choices: Choice[], words: string): Meaning {
  const all = { from: 0, to: c.tokens.length };
  return {
    is: 'ambiguous',
    question: c.lexicon.data.askBack[words] ?? '',
    options: choices.map((x) => ({ label: x.label, meaning: answer(ask, x, c, all) })),
  };
}

export interface YesNo {
  word: 'yes' | 'no' | 'both';
  sure: boolean;
  span: Span;
}

/** Yes or no in the sense of the question, hedges, "no problem", "yeah no" and double negatives included. */
export function yesOrNo(c: Context, question: string, hazardFound: boolean): YesNo | undefined {
  const { fineWords, badWords } = c.lexicon.data.answerWords;
  const first = (name: string) => [...groupHits(c, name)].sort((a, b) => a.from - b.from || b.to - a.to)[0];
  const sure = !c.tokens.some((t) => c.lexicon.data.classes.hedge?.includes(t.text));
  const q = question.toLowerCase();
  const { grammar } = c.lexicon.data;
  const asksBad =
    badWords.some((w) => new RegExp(`(?<!\\p{L})${w}`, 'u').test(q)) &&
    !grammar['not-bad-questions'].some((r) => new RegExp(r, 'u').test(q));
  // "you are great" is no answer
  const fine = c.tokens.findIndex((t, i) => fineWords.includes(t.text) && !grammar.you.includes(c.tokens[i - 2]?.text ?? ''));
  const all = { from: 0, to: c.tokens.length };
  const y = first('yes');
  const n = first('no');
  const yeahNo = first('yeahNo');
  if (yeahNo) return { word: 'no', sure, span: yeahNo };
  const double = first('doubleNegative');
  if (double) return { word: 'yes', sure: false, span: double };
  if (y && (!n || y.from < n.from || (y.from === n.from && y.to >= n.to))) {
    const plain = grammar.plainYes.includes(c.tokens[y.from]?.text ?? '');
    if (plain && asksBad && fine >= 0) return { word: 'both', sure, span: all };
    if (!plain && asksBad && fine >= 0 && fine < y.to) return { word: 'no', sure, span: y };
    // "absolutely filthy": the word that only strengthens is no yes to "is it clean?"
    const against = plain ? undefined : predicate(c, q);
    if (against?.word === 'no') return { ...against, sure };
    return { word: 'yes', sure, span: y };
  }
  if (n) {
    if (asksBad && fine >= 0) return { word: 'no', sure, span: n };
    return { word: 'no', sure, span: n };
  }
  // no yes or no said: what was said may still be the answer to just this question
  const said = predicate(c, q);
  if (said) return { ...said, sure };
  if (hazardFound && asksBad) return { word: 'yes', sure, span: all };
  if (fine >= 0 && c.tokens.length < 6) return { word: asksBad ? 'no' : 'yes', sure, span: { from: fine, to: fine + 1 } };
  const some = first('sometimes');
  if (some) return { word: 'yes', sure: false, span: some };
  return undefined;
}

/** What the words say of just this question: "stuck" to "does it open?". The later of two counts: "it was in the middle so I pushed it to on". */
function predicate(c: Context, q: string): { word: 'yes' | 'no'; span: Span } | undefined {
  for (const p of c.lexicon.data.predicates) {
    if (!p.asks.some((a) => q.includes(a))) continue;
    const [py, pn] = [has(c, p.yes), has(c, p.no)];
    if (pn && !(py && py.from > pn.to)) return { word: 'no', span: pn };
    if (py) {
      const negated = c.lexicon.data.lists.negators.includes(c.tokens[py.from - 1]?.text ?? '');
      return { word: negated ? 'no' : 'yes', span: py };
    }
  }
  return undefined;
}

function has(c: Context, phrases: string[]): Span | undefined {
  for (const p of phrases) {
    const parts = p.split(' ');
    for (let i = 0; i + parts.length <= c.tokens.length; i++)
      if (parts.every((w, k) => c.tokens[i + k]?.text === w)) return { from: i, to: i + parts.length };
  }
  return undefined;
}

interface Named {
  choice: Choice;
  weight: number;
  span: Span;
  /** Its own words that were said, where no more of it was: two choices named by the same words are not told apart. */
  only?: string;
  /** Less than half of its name was said, and nothing else that stands for it. */
  weak: boolean;
  /** How much of its name was said, 0 to 1; 1 where something else stands for it. */
  share: number;
}

/** From here on enough of a long list's entry was said to be that entry. */
const MOST_OF_A_NAME = 0.6;

function byName(c: Context, ask: Ask): Meaning[] {
  const said = c.tokens.filter((t) => t.kind !== 'mark').map((t) => t.text);
  const asWritten = ask.choices.find((x) => x.id === said.join('-'));
  if (asWritten) return [answer(ask, asWritten, c, { from: 0, to: c.tokens.length })];
  const named = new Map<string, Named>();
  const ruledOut = new Set<string>();
  const { negators } = c.lexicon.data.lists;
  const put = (choice: Choice, weight: number, span: Span, weak = false, only?: string, share = 1) => {
    const old = named.get(choice.id);
    named.set(choice.id, {
      choice,
      ...(only !== undefined && !old ? { only } : {}),
      weak: weak && (old?.weak ?? true),
      share: Math.max(share, old?.share ?? 0),
      weight: Math.max(weight, old?.weight ?? 0),
      span: old && old.weight > weight ? old.span : span,
    });
  };
  for (const choice of ask.choices) {
    // its own words
    const own = wordsOf(choice, c.lexicon.data.answerWords.stop);
    const saysNot = own.some((w) => negators.includes(w));
    let hit = 0;
    let deniedHere = false;
    let at: Span | undefined;
    const seen = new Set<string>();
    c.tokens.forEach((t, i) => {
      const word = own.find(
        (w) => w === t.text || (w.length > 3 && (c.lexicon.inflect(w).includes(t.text) || c.lexicon.inflect(t.text).includes(w))),
      );
      if (!word) return;
      const before = c.tokens[i - 1]?.text ?? '';
      if (!saysNot && (negators.includes(before) || denied(c, { from: i, to: i + 1 }))) {
        deniedHere = true;
        return;
      }
      if (!seen.has(word)) hit++;
      seen.add(word);
      at = { from: Math.min(at?.from ?? i, i), to: i + 1 };
    });
    // said once and denied once ("gas, but I smell no gas") is said
    if (deniedHere && hit === 0) ruledOut.add(choice.id);
    // another word for one of its own
    const like = saysNot ? undefined : alike(c, wordsOf(choice, []));
    if (like && !(negators.includes(c.tokens[like.from - 1]?.text ?? '') || denied(c, like))) put(choice, 0.9, like);
    if (at && hit > 0)
      put(
        choice,
        (2 * hit * hit) / own.length + hit * 0.6,
        at,
        hit * 2 < own.length && own.length <= 4 && !ownNumber(ask, choice, seen),
        hit < own.length ? [...seen].sort().join(' ') : undefined,
        seen.size / own.length,
      );
    // its id, which is made of plain words: "there is no capacitor"
    const id = choice.id.split('-');
    const spelled = id.length > 1 ? has(c, [id.join(' ')]) : undefined;
    if (spelled && !negators.includes(c.tokens[spelled.from - 1]?.text ?? '')) put(choice, 1 + id.length, spelled);
    // what else people call it
    for (const h of c.hits) {
      if (h.of.kind !== 'choice') continue;
      const words = c.lexicon.data.choices[h.of.at];
      const fits =
        words &&
        ((words.id === choice.id && (words.fact === undefined || words.fact === choice.fact)) ||
          words.also === choice.label.toLowerCase());
      if (!fits) continue;
      if (negators.includes(c.tokens[h.from - 1]?.text ?? '') || denied(c, h)) ruledOut.add(choice.id);
      else put(choice, 1 + (h.to - h.from), h);
    }
    // dangers and facts the words already stand for
    for (const h of c.hits) {
      if (h.of.kind !== 'hazard' && h.of.kind !== 'fact') continue;
      const means = { ...h.of.entry.hazard, ...h.of.entry.facts };
      if (
        choice.fact &&
        means[choice.fact] === choice.id &&
        !negators.includes(c.tokens[h.from - 1]?.text ?? '') &&
        !denied(c, h)
      )
        put(choice, 1.2 + (h.to - h.from) * 0.4, h);
    }
  }
  for (const id of ruledOut) if ((named.get(id)?.weight ?? 0) < 3) named.delete(id);
  const place = byPlace(c, ask);
  const ranked = [...named.values()].sort((a, b) => b.weight - a.weight);
  if (place) {
    const top = ranked[0];
    if (place.bare && top && top.choice !== place.choice) return [askBack(c, ask, [top.choice, place.choice], 'position')];
    if (!top || place.sure) return [answer(ask, place.choice, c, place.span)];
  }
  if (ask.kind === 'many') {
    const picked = ranked.filter(
      (x) => x.weight >= 1.2 && !ranked.some((o) => o !== x && o.weight > x.weight && overlaps(o.span, x.span)),
    );
    // In a long list one word of a name ("the drum is steel") names nothing, and words that two names share name neither.
    const real = picked.filter((x) => x.choice.id !== 'none' && (!ask.groups || x.share >= MOST_OF_A_NAME));
    const twins = ranked.filter((x) => x.only !== undefined && real.some((o) => o.only === x.only));
    if (ask.groups && twins.length > 1)
      return [
        askBack(
          c,
          ask,
          twins.map((x) => x.choice),
          'one',
        ),
      ];
    if (real.length > 0) return real.map((x) => answer(ask, x.choice, c, x.span));
    const none = groupHits(c, 'neither')[0] ?? groupHits(c, 'no')[0];
    const noneChoice = ask.choices.find((x) => x.id === 'none') ?? { id: 'none', label: '' };
    // "no smoke" denies one of them; "no, none" and "no" deny all
    const after = none && c.tokens[none.to];
    const all =
      none &&
      (ruledOut.size === 0 ||
        after === undefined ||
        after.kind === 'mark' ||
        c.lexicon.data.grammar.plainNone.includes(c.tokens[none.from]?.text ?? ''));
    if (none && all) return [answer(ask, noneChoice, c, none)];
    if (!none && groupHits(c, 'yes').length > 0)
      return [
        askBack(
          c,
          ask,
          ask.choices.filter((x) => x.id !== 'none'),
          'one',
        ),
      ];
    // The name of a line that several stand under: which of them is asked.
    const said = new Set(c.tokens.map((t) => foldAccents(t.text)));
    const group = (ask.groups ?? []).filter((g) => wordsOf(g, c.lexicon.data.answerWords.stop).some((w) => said.has(w)));
    const under = ask.choices.filter((x) => group.some((g) => g.of.includes(x.id)));
    const saysElse = c.hits.some((h) => h.of.kind === 'fact' || h.of.kind === 'family');
    return !none && !saysElse && group.length === 1 ? [askBack(c, ask, under, 'one')] : [];
  }
  const [best, next] = ranked;
  // "ok" may be said in passing: it is an answer, but no firm one
  if (best && inPassing(c)) return [answer(ask, best.choice, c, best.span, false)];
  if (best?.weak && ask.choices.length > 2)
    return [
      askBack(c, ask, [best.choice, ...ask.choices.filter((x) => x !== best.choice && !ruledOut.has(x.id)).slice(0, 1)], 'one'),
    ];
  if (!best) {
    const left = ask.choices.filter((x) => !ruledOut.has(x.id));
    if (ruledOut.size > 0 && left.length === 1 && left[0]) return [answer(ask, left[0], c, { from: 0, to: c.tokens.length })];
    return [];
  }
  const twins = best.only !== undefined ? ranked.filter((x) => x.only === best.only) : [];
  if (twins.length > 1)
    return [
      askBack(
        c,
        ask,
        twins.map((x) => x.choice),
        'one',
      ),
    ];
  if (next && next.weight > best.weight - 0.25)
    return [
      askBack(
        c,
        ask,
        ranked.filter((x) => x.weight > best.weight - 0.25).map((x) => x.choice),
        'one',
      ),
    ];
  return [answer(ask, best.choice, c, best.span)];
}

/** Was a number said that only this choice has ("240" of 120/240 V)? */
function ownNumber(ask: Ask, choice: Choice, said: ReadonlySet<string>): boolean {
  const others = ask.choices.filter((x) => x !== choice).flatMap((x) => wordsOf(x, []));
  return [...said].some((w) => /^\d{2,}$/.test(w) && !others.includes(w));
}

/** Where another word for one of these words was said. */
function alike(c: Context, own: string[]): Span | undefined {
  for (const set of c.lexicon.data.alike) {
    if (
      !set.some((name) => name.length === 1 && own.includes(name[0] ?? '')) &&
      !set.some((name) => name.length > 1 && name.every((w) => own.includes(w)))
    )
      continue;
    for (const name of set)
      for (let i = 0; i + name.length <= c.tokens.length; i++)
        if (name.every((w, n) => c.tokens[i + n]?.text === w)) return { from: i, to: i + name.length };
  }
  return undefined;
}

function wordsOf(choice: Pick<Choice, 'label'>, stop: string[]): string[] {
  const label = foldAccents(choice.label.toLowerCase()).match(/[\p{L}\d]+/gu) ?? [];
  const words = label.filter((w) => !stop.includes(w));
  return [...new Set(words.length > 0 ? words : label)];
}

/** Is this number part of a choice's name ("four slots")? */
function hasNumber(c: Context, choice: Choice, n: number): boolean {
  const { small } = c.lexicon.data.numbers;
  return wordsOf(choice, []).some((w) => w === String(n) || (Object.hasOwn(small, w) && small[w] === n));
}

/** "the second one", "last", "option 3", or a bare number, which may also be part of a name. */
function byPlace(c: Context, ask: Ask): { choice: Choice; bare: boolean; sure: boolean; span: Span } | undefined {
  const { ordinals, numbers } = c.lexicon.data;
  const { lastWords, optionWords, stop, thenWords } = c.lexicon.data.answerWords;
  // "b", "(c)", "option a": a letter that is all that was said
  const bare = c.tokens.filter((t) => t.kind !== 'mark' && !optionWords.includes(t.text));
  const letter = bare.length === 1 && bare[0]?.kind === 'word' ? c.lexicon.data.letters[bare[0].text] : undefined;
  const lettered = letter === undefined || ask.kind === 'many' ? undefined : ask.choices[letter - 1];
  if (lettered) return { choice: lettered, bare: false, sure: true, span: { from: 0, to: c.tokens.length } };
  const rest = c.tokens.filter(
    (t) => t.kind !== 'mark' && !stop.includes(t.text) && !c.lexicon.data.grammar.agreeing.includes(t.text),
  );
  if (rest.length === 0 || rest.length > 4) return undefined;
  for (let i = 0; i < c.tokens.length; i++) {
    const t = c.tokens[i];
    if (!t) continue;
    const span = { from: i, to: i + 1 };
    const before = c.tokens[i - 1]?.text ?? '';
    // "within the last year" and "first, then gone" speak of time, not of places in a list
    const next = c.tokens[i + 1];
    const ofTime = next?.kind === 'word' && !stop.includes(next.text) && !optionWords.includes(next.text);
    if (lastWords.includes(t.text) && !ofTime) {
      const choice = ask.choices.at(-1);
      if (choice) return { choice, bare: false, sure: true, span };
    }
    const said = t.kind === 'number' ? Number(t.text) : ordinals[t.text];
    if (
      said === undefined ||
      (Object.hasOwn(numbers.small, t.text) &&
        numbers.small[t.text] === 1 &&
        c.tokens.filter((x) => x.kind === 'word').length > 1 &&
        !optionWords.includes(before))
    )
      continue;
    const choice = ask.choices[said - 1];
    if (!choice) continue;
    const ordinal = t.kind === 'word' && !Object.hasOwn(numbers.small, t.text);
    if (ordinal && c.tokens.slice(i + 1).some((x) => thenWords.includes(x.text))) continue;
    const counted = optionWords.includes(before) || before === '#';
    if (ordinal || counted) return { choice, bare: false, sure: true, span };
    // a number in words is the one in a choice's name before it is a place; a list of many has no places to count
    if (
      rest.length === 1 &&
      ask.kind !== 'many' &&
      !(t.kind === 'word' && ask.choices.some((x) => x !== choice && hasNumber(c, x, said)))
    )
      return { choice, bare: true, sure: false, span };
  }
  return undefined;
}
