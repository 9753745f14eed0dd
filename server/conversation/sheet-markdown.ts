import { escapeMarkdown } from '../markdown.ts';
import type { JobSheet, SheetReading } from './sheet.ts';
import type { Speaker } from './words/speaker.ts';

/** The job sheet as Markdown. A person's own words are escaped; everything else is ours. */
export function sheetMarkdown(s: Speaker, j: JobSheet): string {
  const none = s.say('sheet-none');
  const list = (items: readonly string[]) => (items.length ? items.map((i) => `- ${i}`).join('\n') : none);
  const blocks: (string | undefined)[] = [
    `# ${j.title}`,
    section(
      s.say('sheet-safety'),
      [
        ...j.safety.stops.map((q) => `**${q.words}**`),
        j.safety.everStopped.length ? s.say('sheet-ever', { list: j.safety.everStopped.join('; ') }) : '',
        ...j.safety.clear.map((name) => s.say('sheet-clear', { name })),
        j.safety.note,
      ]
        .filter(Boolean)
        .join('\n\n'),
    ),
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
        j.machine.coverNote,
      ]),
    ),
    section(s.say('sheet-readings'), j.readings.length ? table(s, j.readings) : s.say('sheet-no-readings')),
    j.skipped.length ? section(s.say('sheet-skipped'), list(j.skipped)) : undefined,
    section(
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
    j.letter &&
      section(
        s.say('sheet-letter'),
        [`${j.letter.to.join(', ')}:`, j.letter.text, list(j.letter.readings), j.letter.ask].join('\n\n'),
      ),
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
    j.proofs.length ? section(s.say('sheet-proofs'), list(j.proofs.map((p) => `${p.label}: ${p.state}`))) : undefined,
    j.closeOut.length ? section(s.say('sheet-close-out'), closeOut(s, j)) : undefined,
  ];
  return `${blocks.filter(Boolean).join('\n\n')}\n`;
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

function table(s: Speaker, readings: readonly SheetReading[]): string {
  const heads = (['what', 'value', 'where', 'state', 'expected', 'verdict', 'who'] as const).map((c) =>
    s.say(`sheet-column-${c}`),
  );
  const rows = readings.map((r) =>
    row([
      r.label,
      r.shown,
      [r.where, r.lifted ? s.say('sheet-lifted') : ''].filter(Boolean).join('; '),
      r.state,
      r.expectedShown ?? '',
      r.standing === 'doubted' ? `${r.verdict} (?)` : r.verdict,
      r.by,
    ]),
  );
  return [head(heads), ...rows].join('\n');
}

function closeOut(s: Speaker, j: JobSheet): string {
  const heads = [s.say('sheet-column-what'), s.say('sheet-as-found'), s.say('sheet-as-left'), s.say('sheet-column-expected')];
  return [
    head(heads),
    ...j.closeOut.map((c) => row([c.label, c.asFound, c.asLeft ?? s.say('sheet-to-fill'), c.expected ?? ''])),
  ].join('\n');
}

function plateWords(s: Speaker, { machine: { plate } }: JobSheet): string {
  const told = [
    plate.volts !== undefined && `${plate.volts} V`,
    plate.total_w !== undefined && `${plate.total_w} W`,
    plate.heater_w !== undefined && `${plate.heater_w} W`,
    plate.amps !== undefined && `${plate.amps} A`,
  ].filter(Boolean);
  return told.length ? told.join(', ') : s.say('sheet-plate-unknown');
}
