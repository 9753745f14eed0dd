import { type Context, contextOf, denied, overlaps } from './context.ts';
import { type Hit, type Lexicon, lexiconOf, matchAll, mendSpelling } from './lexicon.ts';
import { readText } from './tokens.ts';

/** What is asked and told while a stop stands. Elsewhere the same words mean what they always mean. */
export interface HeardInStop {
  /** Questions of the knowledge (stop-questions.json) in the order asked; ANY where it is a question of none of those kinds. */
  asks: string[];
  /** Acts said to be done already. */
  done: string[];
}
/** The entries of the talk that are only heard here. */
const ASKS = 'in-stop';
const DONE = 'done-in-stop';
/** A word alone that tells what a question is about, where nothing more of it is known. The first entry that is there is meant. */
const HINT = 'in-stop-hint';
export const ANY = 'any';
/** "What now?": what is left to do is the answer. */
export const NEXT = 'what-next';
export const heardOnlyInStop = (talk: string): boolean => talk === ASKS || talk === DONE || talk === HINT;

/** Pure; never throws. Of two kinds that share words the longer one was meant; a question never tells that something is done. */
export function heardInStop(utterance: string, language: string | Lexicon): HeardInStop {
  const lexicon = typeof language === 'string' ? lexiconOf(language) : language;
  const text = readText(utterance, lexicon.data.spelling);
  mendSpelling(text, lexicon);
  const c = contextOf(text, matchAll(text.tokens, lexicon), lexicon);
  const told = longestFirst(c.hits.filter((h) => saysAs(h, DONE)));
  const named = longestFirst(c.hits.filter((h) => saysAs(h, ASKS) && kindOf(h) !== ANY)).filter(
    (h) => asksIn(c, h) || !told.some((t) => overlaps(t, h)),
  );
  const done = told.filter((h) => !denied(c, h) && !hedged(c, h) && !asksIn(c, h) && !named.some((n) => overlaps(n, h)));
  const asks = named.length || !asksAnything(c) ? inOrder(named) : [hinted(c) ?? ANY];
  return { asks, done: inOrder(done) };
}

function hinted(c: Context): string | undefined {
  const about = new Set(c.hits.filter((h) => saysAs(h, HINT)).map(kindOf));
  return c.lexicon.data.entries.talk.find((e) => e.talk === HINT && about.has(e.of ?? ''))?.of;
}

const saysAs = (h: Hit, talk: string): boolean => h.of.kind === 'talk' && h.of.entry.talk === talk;
const kindOf = (h: Hit): string => (h.of.kind === 'talk' ? (h.of.entry.of ?? '') : '');
const inOrder = (hits: readonly Hit[]): string[] => [...new Set(hits.toSorted((a, b) => a.from - b.from).map(kindOf))];

function longestFirst(hits: readonly Hit[]): Hit[] {
  const kept: Hit[] = [];
  for (const h of hits.toSorted((a, b) => b.to - b.from - (a.to - a.from)))
    if (!kept.some((k) => overlaps(k, h) && kindOf(k) !== kindOf(h))) kept.push(h);
  return kept;
}

/** A mark of question, or a word that asks where a clause begins. */
const asksAnything = (c: Context): boolean =>
  c.hits.some((h) => saysAs(h, ASKS) && kindOf(h) === ANY && (c.tokens[h.from]?.text === '?' || headsItsClause(c, h.from)));

/** "Is the breaker off", "la apago?": asked, not told. An asking word begins the clause, or it ends in a mark of question. */
function asksIn(c: Context, hit: Hit): boolean {
  const end = c.tokens.findIndex((t, i) => i >= hit.to && t.kind === 'mark');
  if (c.tokens[end]?.text === '?' || c.tokens.slice(hit.from, hit.to).some((t) => t.text === '?')) return true;
  return c.hits.some(
    (h) =>
      saysAs(h, ASKS) &&
      kindOf(h) === ANY &&
      c.sentence[h.from] === c.sentence[hit.from] &&
      h.from <= hit.from &&
      headsItsClause(c, h.from) &&
      !c.tokens.slice(h.from, hit.from).some((t) => t.kind === 'mark'),
  );
}

/** The first word after a mark, a comma among them: "my coat is in there, can I get it". */
const headsItsClause = (c: Context, at: number): boolean => at === 0 || c.tokens[at - 1]?.kind === 'mark';

const hedged = (c: Context, h: Hit): boolean =>
  c.tokens.some(
    (t, i) => i >= h.from - 3 && i < h.to && c.sentence[i] === c.sentence[h.from] && c.lexicon.data.lists.hedges.includes(t.text),
  );
