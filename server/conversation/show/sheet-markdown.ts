import { escapeMarkdown } from '../../markdown.ts';
import type { Speaker } from '../words/speaker.ts';
import { type CloseOutRow, type JobSheet, plateNumbers, type SheetReading, type WrittenBlock } from './sheet.ts';

/** To be written in by hand. */
const BLANK = '……………';

/** The job sheet as Markdown. A person's own words are escaped; everything else is ours. Each thing stands once. */
export function sheetMarkdown(s: Speaker, j: JobSheet): string {
  const none = s.say('sheet-none');
  const list = (items: readonly string[]) => (items.length ? items.map((i) => `- ${i}`).join('\n') : none);
  const told = j.readings.filter((r) => !j.measured.includes(r));
  const after = j.job.filter((block) => block.phase === 'after');
  const blocks: (string | undefined)[] = [
    `# ${j.title}`,
    `${s.say('sheet-opened', { when: j.opened.replace('T', ' ').replace(/:\d\d(\.\d+)?Z$/, ' UTC') })}`,
    section(s.say('sheet-safety'), safety(s, j)),
    section(
      s.say('sheet-complaint'),
      [
        list(j.complaint.families.map((f) => f.title)),
        j.complaint.said.length
          ? `${s.say('sheet-said')}:\n\n${j.complaint.said.map((w) => `> ${escapeMarkdown(w)}`).join('\n>\n')}`
          : '',
      ]
        .filter(Boolean)
        .join('\n\n'),
    ),
    section(
      s.say('sheet-machine'),
      list([
        `${s.say('sheet-kind')}: ${j.machine.kinds.map((m) => m.title).join(' / ')}`,
        `${s.say('sheet-plate')}: ${plateWords(s, j)}`,
        `${s.say('sheet-plug')}: ${j.machine.hookup}`,
        ...(j.measured.length ? [`${s.say('sheet-meter')}: ${j.machine.meter}`] : []),
        j.machine.coverNote,
      ]),
    ),
    ...j.job.filter((block) => block.phase === 'before').map(written),
    section(s.say('sheet-told'), told.length ? tellings(told) : s.say('sheet-no-readings')),
    j.closeOut.length ? section(s.say('sheet-readings'), table(s, j)) : undefined,
    j.skipped.length ? section(s.say('sheet-skipped'), `${j.skipped.join('; ')}.`) : undefined,
    j.safety.stops.length
      ? undefined
      : section(
          s.say('sheet-result'),
          [
            ...(j.result.words.length ? j.result.words : [s.say('sheet-open')]),
            j.result.suspects.length
              ? `${s.say('sheet-suspects')}:\n\n${list(j.result.suspects.map((u) => `${u.label} (${Math.max(1, Math.round(u.share * 100))} %)`))}`
              : '',
          ]
            .filter(Boolean)
            .join('\n\n'),
        ),
    j.ruledOut.length ? section(s.say('sheet-ruled-out'), list(byReading(s, j))) : undefined,
    j.visit &&
      section(
        s.say('sheet-plan'),
        list(
          [
            j.visit.kind,
            ...j.visit.trades.map((t, i) => `${i + 1}. ${t}`.replace('. ', '\\. ')),
            j.visit.mayUse,
            j.visit.priority,
            j.visit.parts.length ? s.say('parts', { list: j.visit.parts.join(', ') }) : '',
            j.visit.minutes ? s.say('visit', { min: j.visit.minutes }) : '',
          ].filter(Boolean),
        ),
      ),
    proofsOf(s, j),
    after.length
      ? section(s.say('sheet-close-out'), after.map((block) => `**${block.title}:** ${fieldsOf(block)}`).join('\n\n'))
      : '',
    j.letter && section(s.say('sheet-letter'), letterMarkdown(s, j)),
  ];
  return `${blocks.filter(Boolean).join('\n\n')}\n`;
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

const written = (block: WrittenBlock): string => section(block.title, fieldsOf(block));
/** One line a block, so that a whole sheet stays one page; what is not known yet has room to be written in. */
const fieldsOf = ({ fields }: WrittenBlock): string =>
  fields
    .map(({ label, value }) => `${label.endsWith('?') ? label : `${label}:`} ${value ? `**${escapeMarkdown(value)}**` : BLANK}`)
    .join(' · ');

/** Answers in words: they have no points and no band, so they need no table. */
const tellings = (readings: readonly SheetReading[]): string =>
  `${readings.map((r) => `${r.label}: **${r.shown}**`).join(' · ')}`;

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
