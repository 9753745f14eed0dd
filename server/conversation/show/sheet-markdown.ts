import { escapeMarkdown } from '../../markdown.ts';
import type { CloseOutRow, JobSheet, WrittenBlock } from '../../shapes/sheet.ts';
import type { Speaker } from '../words/speaker.ts';
import { plateNumbers } from './plate-words.ts';

/** To be written in by hand. */
const BLANK = '……………';

/** The job sheet as Markdown. A person's own words are escaped; everything else is ours. Each thing stands once. */
export function sheetMarkdown(s: Speaker, j: JobSheet): string {
  const opened = j.opened.replace('T', ' ').replace(/:\d\d(\.\d+)?Z$/, ' UTC');
  const before = j.job.filter((block) => block.phase === 'before');
  const blocks = [
    `# ${j.title}`,
    s.say('sheet-opened', { when: opened }),
    section(s.say('sheet-safety'), safety(s, j)),
    section(s.say('sheet-complaint'), complaint(s, j)),
    section(s.say('sheet-machine'), machine(s, j)),
    ...before.map((block) => section(block.title, fieldsOf(block))),
    section(s.say('sheet-told'), told(s, j)),
    j.closeOut.length ? section(s.say('sheet-readings'), table(s, j)) : '',
    j.skipped.length ? section(s.say('sheet-skipped'), `${j.skipped.join('; ')}.`) : '',
    j.safety.stops.length ? '' : section(s.say('sheet-result'), result(s, j)),
    j.ruledOut.length ? section(s.say('sheet-ruled-out'), list(s, byReading(s, j))) : '',
    j.visit ? section(s.say('sheet-plan'), plan(s, j.visit)) : '',
    proofsOf(s, j),
    closeOut(s, j),
    j.letter ? section(s.say('sheet-letter'), letterMarkdown(s, j)) : '',
  ];
  return `${blocks.filter(Boolean).join('\n\n')}\n`;
}

const list = (s: Speaker, items: readonly string[]): string =>
  items.length ? items.map((i) => `- ${i}`).join('\n') : s.say('sheet-none');
const paragraphs = (texts: readonly string[]): string => texts.filter(Boolean).join('\n\n');
const inHundred = (share: number): number => Math.max(1, Math.round(share * 100));

function complaint(s: Speaker, { complaint: { families, said } }: JobSheet): string {
  const words = said.map((w) => `> ${escapeMarkdown(w)}`).join('\n>\n');
  return paragraphs([
    list(
      s,
      families.map((f) => f.title),
    ),
    said.length ? `${s.say('sheet-said')}:\n\n${words}` : '',
  ]);
}

function machine(s: Speaker, j: JobSheet): string {
  const { kinds, hookup, meter, coverNote } = j.machine;
  return list(s, [
    `${s.say('sheet-kind')}: ${kinds.map((m) => m.title).join(' / ')}`,
    `${s.say('sheet-plate')}: ${plateWords(s, j)}`,
    `${s.say('sheet-plug')}: ${hookup}`,
    ...(j.measured.length ? [`${s.say('sheet-meter')}: ${meter}`] : []),
    coverNote,
  ]);
}

function result(s: Speaker, { result: { words, suspects } }: JobSheet): string {
  const likely = suspects.map((u) => `${u.label} (${inHundred(u.share)} %)`);
  return paragraphs([
    ...(words.length ? words : [s.say('sheet-open')]),
    likely.length ? `${s.say('sheet-suspects')}:\n\n${list(s, likely)}` : '',
  ]);
}

function plan(s: Speaker, visit: NonNullable<JobSheet['visit']>): string {
  const lines = [
    visit.kind,
    ...visit.trades.map((t, i) => `${i + 1}\\. ${t}`),
    visit.mayUse,
    visit.priority,
    visit.parts.length ? s.say('parts', { list: visit.parts.join(', ') }) : '',
    visit.minutes ? s.say('visit', { min: visit.minutes }) : '',
  ];
  return list(s, lines.filter(Boolean));
}

function closeOut(s: Speaker, { job }: JobSheet): string {
  const after = job.filter((block) => block.phase === 'after');
  const lines = after.map((block) => `**${block.title}:** ${fieldsOf(block)}`);
  return lines.length ? section(s.say('sheet-close-out'), paragraphs(lines)) : '';
}

/** The letter alone: whoever gets it needs nothing else of the sheet. */
export function letterMarkdown(s: Speaker, j: JobSheet): string {
  const { letter } = j;
  if (!letter) return '';
  const by = j.job.flatMap((block) => block.fields).find((f) => f.id === 'technician')?.value;
  return [
    `${letter.to.join(', ')}:`,
    letter.text,
    letter.dryer && `${s.say('sheet-letter-dryer')}: ${letter.dryer}.`,
    letter.readings.map((i) => `- ${i}`).join('\n'),
    letter.ask,
    letter.mayUse,
    `${s.say('sheet-letter-signed')}: ${by ? escapeMarkdown(by) : BLANK}`,
  ]
    .filter(Boolean)
    .join('\n\n');
}

const safety = (s: Speaker, j: JobSheet): string =>
  [
    ...j.safety.stops.map((q) => `**${q.words}**`),
    j.safety.everStopped.length ? s.say('sheet-ever', { list: j.safety.everStopped.join('; ') }) : '',
    j.safety.clear.map((name) => s.say('sheet-clear', { name })).join(' '),
    j.safety.note,
  ]
    .filter(Boolean)
    .join('\n\n');

/** One line a block, so that a whole sheet stays one page; what is not known yet has room to be written in. */
const fieldsOf = ({ fields }: WrittenBlock): string =>
  fields
    .map(({ label, value }) => `${label.endsWith('?') ? label : `${label}:`} ${value ? `**${escapeMarkdown(value)}**` : BLANK}`)
    .join(' · ');

/** Answers in words: they have no points and no band, so they need no table. */
function told(s: Speaker, j: JobSheet): string {
  const inWords = j.readings.filter((r) => !j.measured.includes(r));
  return inWords.length ? inWords.map((r) => `${r.label}: **${r.shown}**`).join(' · ') : s.say('sheet-no-readings');
}

/** By the reading that did it: one line names all that it ruled out first. */
function byReading(s: Speaker, j: JobSheet): string[] {
  const by = new Map<string, string[]>();
  for (const { label, by: readings } of j.ruledOut) by.set(readings[0]!, [...(by.get(readings[0]!) ?? []), label]);
  return [...by].map(([reading, faults]) => s.say('ruled-by', { reading, faults: faults.join('; ') }));
}

const section = (title: string, body: string): string => `## ${title}\n\n${body}`;
const cell = (text: string): string => text.replace(/\|/g, '\\|').replace(/\n/g, ' ');
const row = (cells: readonly string[]): string => `| ${cells.map(cell).join(' | ')} |`;
const head = (cells: readonly string[]): string => `${row(cells)}\n${row(cells.map(() => '---'))}`;

/** Each pair of points once: as found, what it was held against, and room for the reading as left. */
function table(s: Speaker, { closeOut }: JobSheet): string {
  const heads = [
    s.say('sheet-column-what'),
    s.say('sheet-as-found'),
    s.say('sheet-column-where'),
    s.say('sheet-column-state'),
    s.say('sheet-column-expected'),
    s.say('sheet-column-verdict'),
    s.say('sheet-as-left'),
    s.say('sheet-column-who'),
  ];
  const line = (r: CloseOutRow) =>
    row([
      r.label,
      r.asFound,
      [r.where, r.lifted ? s.say('sheet-lifted') : ''].filter(Boolean).join('; '),
      r.state,
      r.expected ?? '',
      r.standing === 'doubted' ? `${r.verdict} (?)` : r.verdict,
      r.asLeft ?? BLANK,
      r.by,
    ]);
  return [head(heads), ...closeOut.map(line)].join('\n');
}

/** Proofs that were run; those still due are named with the repair. */
function proofsOf(s: Speaker, j: JobSheet): string | undefined {
  const run = j.proofs.filter((p) => p.state !== 'due');
  return run.length
    ? section(
        s.say('sheet-proofs'),
        run.map((p) => `- ${p.label}: ${s.say(p.state === 'good' ? 'sheet-proof-good' : 'sheet-proof-failed')}`).join('\n'),
      )
    : undefined;
}

function plateWords(s: Speaker, { machine: { plate, plateSupply } }: JobSheet): string {
  const numbers = plateNumbers(plate);
  if (!numbers.length && !plateSupply) return s.say('sheet-plate-unknown');
  const watts = plate.total_w ?? plate.heater_w ?? plate.amps;
  return [plateSupply, ...numbers, watts === undefined && s.say('sheet-watts-unknown')].filter(Boolean).join(', ');
}
