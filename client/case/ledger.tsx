import { Prose } from '../markdown.tsx';
import { word } from '../say.ts';
import type { Line } from '../types.ts';
import { Change } from './change.tsx';
import { type Group, grouped, summary } from './group.ts';
import type { Note, Talk, TalkState } from './talk.ts';

interface Props {
  talk: Talk;
  state: TalkState;
  lines: Line[];
  /** Seq of the line opened for a change; 0 = none. */
  open: number;
  onOpen: (seq: number) => void;
  /** While a stop stands nothing here can be pressed. */
  readOnly: boolean;
}

/** The working record: what was asked, what was answered, and what the answer meant, in numbered lines. */
export function Ledger(props: Props) {
  const { state, lines } = props;
  return (
    <div class="log" role="log" aria-label={word('record')} aria-live="polite" aria-relevant="additions">
      <Notes notes={state.notes[0]} />
      {lines.length > 0 && (
        <ol class="ledger">
          {grouped(lines).map((group) =>
            group.lines.length === 1 ? (
              <li key={group.lines[0]!.seq} class="ledger-line" id={`line-${group.lines[0]!.seq}`}>
                <Entry {...props} line={group.lines[0]!} number={group.from} bare={saidAbove(lines, group.from)} />
                <Notes notes={state.notes[group.lines[0]!.seq]} />
              </li>
            ) : (
              <li key={group.lines[0]!.seq} class="ledger-group">
                <ManyAtOnce {...props} group={group} />
              </li>
            ),
          )}
        </ol>
      )}
    </div>
  );
}

/** Answers one list gave at once: what was picked, else those that stand out. Each point is a press away. */
function ManyAtOnce({ group, ...props }: Props & { group: Group }) {
  const { usual, others } = summary(group);
  const last = group.lines.at(-1)!;
  const said = saidWords(last);
  return (
    <>
      <details open={group.lines.some((line) => line.seq === props.open)}>
        <summary class="ledger-line" data-open={word('unfold')} data-close={word('fold')}>
          <span class="line-number">
            {group.from}–{group.from + group.lines.length - 1}
          </span>
          <span class="ledger-question">{word('answers-to-list', { n: group.lines.length })}</span>
          <span class="ledger-answer">
            {said ? (
              <span class="shown">{said}</span>
            ) : (
              <>
                {others.map((line) => (
                  <span class="stands-out">
                    {line.label}: <span class="shown">{line.shown}</span>
                  </span>
                ))}
                <span>
                  {`${word(others.length > 0 ? 'the-rest' : 'all-of-them')} `}
                  <span class="shown">{usual}</span>
                </span>
              </>
            )}
          </span>
        </summary>
        <ol class="inner">
          {group.lines.map((line, at) => (
            <li key={line.seq} class="ledger-line" id={`line-${line.seq}`}>
              <Entry {...props} line={line} number={group.from + at} bare />
            </li>
          ))}
        </ol>
      </details>
      {group.lines.map((line) => (
        <Notes key={line.seq} notes={props.state.notes[line.seq]} />
      ))}
    </>
  );
}

function Entry({
  talk,
  state,
  line,
  number,
  open,
  onOpen,
  readOnly,
  bare,
}: Props & { line: Line; number: number; bare?: boolean }) {
  const said = bare ? '' : saidWords(line);
  return (
    <>
      <span class="line-number" aria-hidden="true">
        {number}
      </span>
      <span class="ledger-question">{line.label}</span>
      <span class="ledger-answer">
        <span class="shown">{line.shown}</span>
        {said && <q class="said">{said}</q>}
      </span>
      {!readOnly && (
        <button
          type="button"
          class="change-button"
          aria-label={word('change-line', { n: number, label: line.label })}
          aria-expanded={open === line.seq ? 'true' : 'false'}
          disabled={state.busy}
          onClick={() => onOpen(open === line.seq ? 0 : line.seq)}
        >
          {word('change')}
        </button>
      )}
      {!readOnly && open === line.seq && (
        <Change
          line={line}
          number={number}
          talk={talk}
          state={state}
          units={state.view?.units ?? 'us'}
          onClose={() => {
            onOpen(0);
            document.querySelector<HTMLElement>(`#line-${line.seq} .change-button`)?.focus();
          }}
        />
      )}
    </>
  );
}

const Notes = ({ notes }: { notes: Note[] | undefined }) =>
  notes && notes.length > 0 ? (
    <div class="notes">
      {notes.map((note) => (
        <div class="note">
          {note.said && <q class="said">{note.said}</q>}
          {note.parts.map((part) => (
            <Prose text={part.text} class={part.kind} />
          ))}
        </div>
      ))}
    </div>
  ) : null;

/** One sentence may give several lines; it is quoted at the first of them. */
const saidAbove = (lines: Line[], number: number): boolean => {
  const [above, line] = [lines[number - 2], lines[number - 1]];
  return above?.turn === line?.turn && above?.said === line?.said;
};

/** The words it came from, where they say more than what was made of them. A choice's id is no words. */
function saidWords({ said, shown }: Line): string {
  const bare = (text: string) => text.toLowerCase().replace(/[^\p{L}\p{N}]/gu, '');
  const isId = /^[a-z0-9]+([-,][a-z0-9]+)*$/.test(said) || /^-?\d+(\.\d+)?$/.test(said);
  return said && !isId && !bare(shown).includes(bare(said)) ? said : '';
}
