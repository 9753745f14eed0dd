import { type CaseFacts, type Fact, type Fault, type Knowledge, LIKELY, type Likely, type Prepared } from '../types.ts';

type Words = Record<string, Likely>;

const views = new WeakMap<Knowledge, Map<string, Knowledge>>();
const prepared = new WeakMap<Prepared, Map<string, Prepared>>();

/**
 * The same machine with the words of this talk: what a complaint itself makes likely (`silentIn`) and how a fault shows under it (`signsIn`)
 * stand in place of the plain words. Kept per machine and families, so that what was worked out stays.
 */
export function inTalk(p: Prepared, families: readonly string[], comesAndGoes = false): Prepared {
  const id = `${families.join('+')}${comesAndGoes ? ' now and then' : ''}`;
  return kept(prepared, p, id, () => {
    const words = wordsOfTalk(p.knowledge, families);
    return Object.freeze({ ...p, knowledge: comesAndGoes ? nowAndThen(words) : words });
  });
}

/** Does the complaint come and go, by what was told? Then a good reading clears nothing. */
export const comesAndGoes = (k: Knowledge, f: Pick<CaseFacts, 'readings'>): boolean =>
  f.readings.some((r) => k.facts.get(r.fact)?.comesAndGoes?.includes(String(r.value)));

// Every fault shows only at times: what a sound machine would show may be seen under each of them.
function nowAndThen(k: Knowledge): Knowledge {
  const faults = new Map(
    [...k.faults].map(([id, f]) => {
      const signs: Fault['signs'] = {};
      for (const [fact, named] of Object.entries(f.signs)) signs[fact] = { ...soundAnswers(k.facts.get(fact)), ...named };
      return [id, { ...f, shows: 'now-and-then' as const, signs }];
    }),
  );
  return { ...k, faults };
}
function soundAnswers(f: Fact | undefined): Words {
  const sound = Object.entries(f?.silent ?? {}).filter(([, likely]) => likely === 'always' || likely === 'usual');
  return Object.fromEntries(sound.map(([answer]) => [answer, 'maybe' as const]));
}

/** The knowledge with the words of this talk in place of the plain ones. */
export function wordsOfTalk(k: Knowledge, families: readonly string[]): Knowledge {
  return kept(views, k, families.join('+'), () => {
    const facts = new Map([...k.facts].map(([id, f]) => [id, withSilent(f, families)]));
    const faults = new Map([...k.faults].map(([id, f]) => [id, withSigns(k, f, families)]));
    return { ...k, facts, faults };
  });
}

function withSilent(f: Fact, families: readonly string[]): Fact {
  if (!f.silentIn || !families.some((id) => f.silentIn![id])) return f;
  const { silent: _, ...rest } = f;
  const words = likeliest(families.map((id) => silentOf(f, id)));
  return words ? { ...rest, silent: words } : rest;
}
// An empty record: under this complaint the fact says nothing.
function silentOf(f: Fact | undefined, family: string): Words | undefined {
  const words = f?.silentIn?.[family] ?? f?.silent;
  return words && Object.keys(words).length ? words : undefined;
}

function withSigns(k: Knowledge, f: Fault, families: readonly string[]): Fault {
  if (!f.signsIn || !families.some((id) => f.signsIn![id])) return f;
  // Behind two complaints at once it may show as it does under either; a complaint it is not behind has no say.
  const own = families.filter((id) => Object.values(f.weight[id] ?? {}).some((w) => w > 0));
  const under = own.length ? own : families;
  const all = under.map((id) => f.signsIn![id] ?? f.signs);
  const signs: Fault['signs'] = {};
  for (const fact of new Set(all.flatMap((s) => Object.keys(s)))) {
    const words = likeliest(under.map((id, i) => all[i]![fact] ?? silentOf(k.facts.get(fact), id)));
    if (words) signs[fact] = words;
  }
  return { ...f, signs };
}

function likeliest(all: readonly (Words | undefined)[]): Words | undefined {
  const said = all.filter((w): w is Words => w !== undefined);
  if (said.length < 2) return said[0];
  const out: Words = {};
  for (const words of said)
    for (const [answer, likely] of Object.entries(words)) {
      const had = out[answer];
      if (had === undefined || LIKELY.indexOf(likely) < LIKELY.indexOf(had)) out[answer] = likely;
    }
  return out;
}

function kept<K extends object, V>(all: WeakMap<K, Map<string, V>>, of: K, id: string, make: () => V): V {
  const map = all.get(of) ?? new Map<string, V>();
  all.set(of, map);
  const had = map.get(id) ?? make();
  map.set(id, had);
  return had;
}
