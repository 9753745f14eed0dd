import { readFileSync } from 'node:fs';
import { understand } from '../../server/understand/index.ts';
import { askOf, type Item } from './understand-ask.ts';
import { type Scored, scoreOne, total } from './understand-score.ts';
import { inWords } from './understand-words.ts';

const HELP = `What the words of a file of utterances mean, as JSON lines {id, meaning}.

  npm run understand -- FILE.json            the meanings
  npm run understand -- FILE.json --score    how many are right, by the meanings in the file
  npm run understand -- FILE.json --wrong    the wrong ones too`;

export function meaningOf(item: Pick<Item, 'role' | 'asked' | 'expects' | 'text' | 'options'>): Record<string, unknown> {
  const ask = askOf(item);
  return inWords(understand(item.text, ask, item.role, {}), ask, item.expects);
}

export function scoreAll(items: Item[]): Scored[] {
  return items.map((item) => scoreOne(item.id, item.meaning as Record<string, unknown>, meaningOf(item)));
}

const share = (n: number, of: number): string => `${n} of ${of}${of > 0 ? ` (${((100 * n) / of).toFixed(1)} %)` : ''}`;

/** @returns the exit code: 0, or 2 where the file cannot be read */
export function main(args: string[]): number {
  const file = args.find((a) => !a.startsWith('--'));
  if (!file) {
    console.log(HELP);
    return 2;
  }
  let items: Item[];
  try {
    items = JSON.parse(readFileSync(file, 'utf8')) as Item[];
  } catch (e) {
    console.error(`Cannot read ${file}: ${(e as Error).message}`);
    return 2;
  }
  // a reader that has seen enough (head -1) closes its end: that is no fault, and there is nobody left to tell
  process.stdout.on('error', (e: NodeJS.ErrnoException) => {
    if (e.code !== 'EPIPE') throw e;
    process.exit(0);
  });
  if (!args.includes('--score') && !args.includes('--wrong')) {
    for (const item of items) console.log(JSON.stringify({ id: item.id, meaning: meaningOf(item) }));
    return 0;
  }
  const rows = scoreAll(items);
  if (args.includes('--wrong'))
    rows.forEach((r, i) => {
      const item = items[i];
      if (!r.right && item)
        console.log(
          `${r.id} [${item.asked.slice(0, 60)}] "${item.text.slice(0, 90)}"\n    ${r.why}\n    got ${JSON.stringify(meaningOf(item)).slice(0, 220)}`,
        );
    });
  const s = total(rows);
  console.log(
    `right ${share(s.right, s.items)}, hazards missed ${share(s.missed, s.hazards)}, ambiguous asked back ${share(s.asked, s.ambiguous)}, confident wrong values ${s.confidentWrong}`,
  );
  return 0;
}
