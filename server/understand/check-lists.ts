import type { Knowledge } from '../../rules/types.ts';
import { type Names, namesOf } from './check-names.ts';
import headKinds from './head/kinds.json' with { type: 'json' };
import thresholds from './head/thresholds.json' with { type: 'json' };
import weights from './head/weights.json' with { type: 'json' };
import concepts from './lexicon/en/concepts.json' with { type: 'json' };
import pointsSaid from './lexicon/en/points-said.json' with { type: 'json' };
import spanish from './lexicon/es/concepts.json' with { type: 'json' };
import kinds from './lexicon/kinds.json' with { type: 'json' };
import parts from './lexicon/parts.json' with { type: 'json' };

/** The lists that hold in whatever language, and what the heads were trained on. */
export interface Lists {
  kinds: { saidState: Record<string, string>; leastSaid: Record<string, string> };
  parts: {
    chains: Record<string, string[]>;
    notLive: string[];
    readIn: Record<string, string[]>;
    deadState: Record<string, string>;
  };
  pointsSaid: { states: Record<string, string[][]> };
  head: { kinds: Record<string, Record<string, string>>; notYet: string[]; neverDoubted: string[]; which: Record<string, Head> };
  whether: Head;
  concepts: Record<string, Record<string, unknown>>;
}
interface Head {
  weights: Record<string, number>;
}
export const LISTS: Lists = {
  kinds,
  parts,
  pointsSaid: pointsSaid as unknown as Lists['pointsSaid'],
  head: {
    kinds: headKinds.kinds as unknown as Lists['head']['kinds'],
    notYet: headKinds.notYet,
    neverDoubted: thresholds.neverDoubted,
    which: weights.which as unknown as Lists['head']['which'],
  },
  whether: weights.whether as unknown as Head,
  concepts: { en: concepts, es: spanish },
};

/** Every name in the lists that stands nowhere in the knowledge. */
export function listProblems(k: Knowledge, lists: Lists = LISTS): string[] {
  const names = namesOf(k);
  checkKinds(k, names, lists.kinds);
  checkParts(k, names, lists.parts);
  for (const unit of Object.values(lists.pointsSaid.states))
    for (const [state = ''] of unit) names.one('lexicon/en/points-said.json, states', 'state', state, k.states.keys());
  checkHeads(names, lists);
  return names.problems;
}

function checkKinds(k: Knowledge, names: Names, list: Lists['kinds']): void {
  const at = 'lexicon/kinds.json';
  for (const [id, value] of Object.entries(list.leastSaid)) names.answer(`${at}, leastSaid`, id, value);
  for (const id of new Set(Object.values(list.saidState))) names.one(at, 'state', id, k.states.keys());
}

function checkParts(k: Knowledge, names: Names, list: Lists['parts']): void {
  const at = 'lexicon/parts.json';
  for (const id of list.notLive) names.one(`${at}, notLive`, 'part', id, Object.keys(list.chains));
  for (const id of [...Object.values(list.readIn).flat(), ...Object.values(list.deadState)])
    names.one(at, 'state', id, k.states.keys());
}

/** A head that hears what the knowledge does not hold would stop a talk for nothing, or hear a danger and say none. */
function checkHeads(names: Names, { head, whether, concepts: words }: Lists): void {
  const at = 'head/kinds.json';
  for (const [kind, means] of Object.entries(head.kinds)) {
    if (!Object.hasOwn(head.which, kind))
      names.problems.push(`${at}, kind "${kind}": no head of weights.json hears it; npm run train`);
    if (head.notYet.includes(kind)) continue;
    for (const [id, value] of Object.entries(means)) names.danger(`${at}, kind "${kind}"`, id, value);
  }
  for (const kind of head.notYet) names.one(`${at}, notYet`, 'kind', kind, Object.keys(head.kinds));
  for (const kind of Object.keys(head.which))
    names.one('head/weights.json, which', 'kind of kinds.json', kind, Object.keys(head.kinds));
  for (const id of head.neverDoubted) names.danger('head/thresholds.json, neverDoubted', id);
  for (const concept of conceptsHeard([whether, ...Object.values(head.which)]))
    for (const [tag, known] of Object.entries(words))
      names.one(`head/weights.json, a concept of lexicon/${tag}/concepts.json`, 'concept', concept, Object.keys(known));
}
/** The concepts that heads weigh: "k:gas-name", "nkk:gas-name+now-word" (features.ts). */
const conceptsHeard = (heads: readonly Head[]): Set<string> =>
  new Set(
    heads.flatMap((head) => Object.keys(head.weights)).flatMap((feature) => /^n?kk?:(.+)$/.exec(feature)?.[1]?.split('+') ?? []),
  );
