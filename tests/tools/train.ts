/**
 * npm run train [-- --held-out] [-- --check]
 * Trains the heads that hear dangers from the rows in tests/corpus and writes their weights; the same bytes on every run and runtime.
 * --held-out: instead, for each writer, trains on all others and tells what is heard of that writer's rows at each threshold.
 * --check: writes nothing and fails where the file is not what training gives.
 */
import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import type { Audience } from '../../rules/types.ts';
import { contextOf } from '../../server/understand/context.ts';
import { findHazards } from '../../server/understand/hazards.ts';
import { featuresOf } from '../../server/understand/head/features.ts';
import kindFile from '../../server/understand/head/kinds.json' with { type: 'json' };
import { LANGUAGES } from '../../server/understand/lexicon/languages.ts';
import { lexiconOf, matchAll, mendSpelling } from '../../server/understand/lexicon.ts';
import { readText } from '../../server/understand/tokens.ts';
import { type Row, type Trained, train } from './train-head.ts';

const FOLDER = 'tests/corpus';
const FILE = 'server/understand/head/weights.json';
/** A feature seen less often than this tells of its row alone. */
const SEEN = 2;
/** Weights are whole numbers of a hundredth. */
const SCALE = 100;
/** Smaller weights are left out of the file. */
const LEAST = { whether: 8, which: 24 };
/** The kind of danger is told by words, concepts and phrases; pairs of words are too many for what they bring. */
const TELLS_KIND = /^(w|p|k|kk|h|f):/;

export interface CorpusRow {
  id: string;
  writer: string;
  audience: Audience;
  lang: string;
  text: string;
  meaning: { danger?: string[]; none?: string[]; ask?: string[] };
}
interface Read {
  row: CorpusRow;
  features: string[];
  phrase: boolean;
}

export function corpus(): CorpusRow[] {
  return readdirSync(FOLDER)
    .filter((f) => f.endsWith('.jsonl'))
    .sort()
    .flatMap((f) =>
      readFileSync(`${FOLDER}/${f}`, 'utf8')
        .split('\n')
        .filter(Boolean)
        .map((line) => JSON.parse(line) as CorpusRow),
    );
}

/** The examples that stand beside the phrases of danger: what the plainest wordings mean, in each language. */
function fromPhrases(): CorpusRow[] {
  const kindOf = (hazard: Readonly<Record<string, string>>) =>
    Object.entries(kindFile.kinds as Record<string, Record<string, string>>).find(([, facts]) =>
      Object.entries(facts).some(([fact, value]) => hazard[fact] === value),
    )?.[0] ??
    Object.entries(kindFile.kinds as Record<string, Record<string, string>>).find(
      ([, facts]) => Object.keys(facts)[0] === Object.keys(hazard)[0],
    )?.[0];
  return Object.keys(LANGUAGES).flatMap((lang) =>
    lexiconOf(lang).data.entries.hazards.flatMap((e): CorpusRow[] => {
      const kind = e.hazard && e.id !== 'static' ? kindOf(e.hazard) : undefined;
      const row = (text: string, meaning: CorpusRow['meaning'], i: number): CorpusRow => ({
        id: `L-${lang}-${e.id}-${i}`,
        writer: 'L',
        audience: 'homeowner',
        lang,
        text,
        meaning,
      });
      return [
        ...(kind ? e.yes.map((text, i) => row(text, { danger: [kind] }, i)) : []),
        ...e.no.map((text, i) => row(text, { none: kind ? [kind] : [] }, 100 + i)),
      ];
    }),
  );
}

export function read(row: CorpusRow): Read {
  const lexicon = lexiconOf(row.lang);
  const text = readText(row.text, lexicon.data.spelling);
  mendSpelling(text, lexicon);
  const c = contextOf(text, matchAll(text.tokens, lexicon), lexicon);
  return { row, features: [...featuresOf(c, row.audience)], phrase: findHazards(c).hazards.length > 0 };
}

/** Rows of the head that tells whether there is a danger at all; "a careful person would ask" lies between. */
const whether = ({ row, features }: Read): Row => ({
  features,
  target: row.meaning.danger ? 1 : row.meaning.ask ? 0.6 : 0,
  weight: row.meaning.ask ? 0.5 : 1,
});
const kindsOf = ({ meaning }: CorpusRow): string[] => meaning.danger ?? meaning.ask ?? [];
/** Rows of the head of one kind: against the other dangers, and less against what is none. */
const which =
  (kind: string) =>
  ({ row, features }: Read): Row => ({
    features: features.filter((f) => TELLS_KIND.test(f)),
    target: kindsOf(row).includes(kind) ? 1 : 0,
    weight: kindsOf(row).includes(kind) ? 3 : row.meaning.none ? 0.3 : 1,
  });

/** What is left of a head once its weights are whole numbers and the small ones are gone: what people meet. */
function pruned({ bias, weights }: Trained, least: number): Trained {
  const whole = [...weights].map(([f, w]): [string, number] => [f, Math.round(w * SCALE)]);
  return { bias: Math.round(bias * SCALE), weights: new Map(whole.filter(([, w]) => Math.abs(w) >= least)) };
}

interface Model {
  whether: Trained;
  which: Map<string, Trained>;
}

function model(reads: readonly Read[]): Model {
  const seen = new Map<string, number>();
  for (const r of reads) for (const f of r.features) seen.set(f, (seen.get(f) ?? 0) + 1);
  const kept = reads.map((r) => ({ ...r, features: r.features.filter((f) => seen.get(f)! >= SEEN) }));
  const dangers = kept.filter((r) => kindsOf(r.row).length > 0 || r.row.meaning.none?.length);
  const kinds = [...new Set(reads.flatMap((r) => kindsOf(r.row)))].sort();
  return {
    whether: pruned(train(kept.map(whether)), LEAST.whether),
    which: new Map(kinds.map((kind) => [kind, pruned(train(dangers.map(which(kind)), { epochs: 5 }), LEAST.which)])),
  };
}

const score = (t: Trained, features: readonly string[]): number =>
  features.reduce((sum, f) => sum + (t.weights.get(f) ?? 0), t.bias);

function written(m: Model): string {
  const whole = ({ bias, weights }: Trained) => ({
    bias,
    weights: Object.fromEntries([...weights].sort(([a], [b]) => (a < b ? -1 : 1))),
  });
  const out = {
    note: 'Written by npm run train from the rows in tests/corpus. Whole numbers: a score is their sum.',
    whether: whole(m.whether),
    which: Object.fromEntries([...m.which].map(([kind, t]) => [kind, whole(t)])),
  };
  return `${JSON.stringify(out)
    .replace('"whether":', '\n"whether":')
    .replace('"which":', '\n"which":')
    .replaceAll('},"', '},\n"')}\n`;
}

export function main(args: string[]): number {
  const reads = [...corpus(), ...fromPhrases()].map(read);
  if (args.includes('--held-out')) return heldOut(reads);
  const text = written(model(reads));
  if (args.includes('--check')) {
    const same = readFileSync(FILE, 'utf8') === text;
    console.log(same ? 'the weights are what training gives' : `${FILE} is not what training gives: npm run train`);
    return same ? 0 : 1;
  }
  writeFileSync(FILE, text);
  console.log(
    `${reads.length} rows, ${new Set(reads.map((r) => r.row.writer)).size} writers, ${Math.round(text.length / 1024)} kB`,
  );
  return 0;
}

/** What is heard of a writer whose rows were not trained on: rules alone, the head alone, both. */
function heldOut(reads: readonly Read[]): number {
  const rows: { writer: string; danger: boolean; near: boolean; phrase: boolean; at: number; first: boolean; second: boolean }[] =
    [];
  for (const writer of new Set(reads.map((r) => r.row.writer))) {
    const m = model(reads.filter((r) => r.row.writer !== writer));
    for (const r of reads.filter((x) => x.row.writer === writer && !x.row.meaning.ask)) {
      const ranked = [...m.which].map(([k, t]) => [k, score(t, r.features)] as const).sort((a, b) => b[1] - a[1]);
      const right = kindsOf(r.row);
      rows.push({
        writer,
        danger: r.row.meaning.danger !== undefined,
        near: (r.row.meaning.none?.length ?? 0) > 0,
        phrase: r.phrase,
        at: score(m.whether, r.features),
        first: right.includes(ranked[0]?.[0] ?? ''),
        second: ranked.slice(0, 2).some(([k]) => right.includes(k)),
      });
    }
  }
  const share = (of: typeof rows, is: (r: (typeof rows)[number]) => boolean) =>
    `${((100 * of.filter(is).length) / Math.max(1, of.length)).toFixed(1)}`;
  const dangers = rows.filter((r) => r.danger);
  const near = rows.filter((r) => !r.danger && r.near);
  const plain = rows.filter((r) => !r.danger && !r.near);
  console.log(`dangers ${dangers.length}, near misses ${near.length}, ordinary ${plain.length}`);
  console.log(`rules alone: ${share(dangers, (r) => r.phrase)} ${share(near, (r) => r.phrase)} ${share(plain, (r) => r.phrase)}`);
  console.log('threshold: head heard, near, ordinary | either | right kind first, among two');
  for (let t = -150; t <= 200; t += 25) {
    const heard = (r: (typeof rows)[number]) => r.at >= t;
    const either = (r: (typeof rows)[number]) => r.at >= t || r.phrase;
    const of = dangers.filter(heard);
    console.log(
      `${String(t).padStart(5)}: ${[dangers, near, plain].map((x) => share(x, heard)).join(' ')} | ${[dangers, near, plain].map((x) => share(x, either)).join(' ')} | ${share(of, (r) => r.first)} ${share(of, (r) => r.second)}`,
    );
  }
  for (const writer of new Set(rows.map((r) => r.writer))) {
    const own = rows.filter((r) => r.writer === writer);
    const at = (t: number) =>
      [own.filter((r) => r.danger), own.filter((r) => !r.danger)].map((x) => share(x, (r) => r.at >= t || r.phrase)).join('/');
    console.log(`${writer}: heard at -100 ${at(-100)}, at -50 ${at(-50)}, at 0 ${at(0)}`);
  }
  console.log('of what phrases find: dangers, near, ordinary below each score of the head');
  for (const t of [-250, -200, -150, -100, -50, 0])
    console.log(
      `${t}: ${[dangers, near, plain]
        .map((x) =>
          share(
            x.filter((r) => r.phrase),
            (r) => r.at < t,
          ),
        )
        .join(' ')}`,
    );
  return 0;
}
