import { useEffect, useState } from 'hono/jsx/dom';
import { api } from '../api.ts';
import { Record } from '../case/record.tsx';
import { talkOf } from '../case/use-talk.ts';
import { keptUnits } from '../kept.ts';
import { go, hashOf } from '../route.ts';
import { speak } from '../say.ts';
import type { DemoStep, DemoTalk } from '../types.ts';
import { audienceTitle, troubleWords } from '../words.ts';

/** Invented talks, played step by step against the real program. They are written in English. */
export function Demo({ name, id, step }: { name?: string; id?: string; step: number }) {
  useEffect(() => void speak('en'), []);
  return name ? <Player key={name} name={name} id={id} step={step} /> : <List />;
}

function List() {
  const [demos, setDemos] = useState<{ name: string; title: string }[] | undefined>(undefined);
  const [trouble, setTrouble] = useState('');
  useEffect(() => {
    void api.demos().then((got) => (got.ok ? setDemos(got.value) : setTrouble(troubleWords(got.failure))));
  }, []);
  return (
    <main id="record" class="sheet-of-paper" tabindex={-1}>
      <h1>Invented talks</h1>
      <p class="lead">
        Nobody in them is real. Each plays step by step against this very program: what it asks and says is worked out as you
        watch.
      </p>
      {trouble && (
        <p class="trouble" role="alert">
          {trouble}
        </p>
      )}
      {demos?.length === 0 && <p>There are none here.</p>}
      <ul class="demo-list">
        {demos?.map((demo) => (
          <li>
            <a href={hashOf({ at: 'demo', name: demo.name, step: 0 })}>{demo.title}</a>
          </li>
        ))}
      </ul>
    </main>
  );
}

interface PlayerProps {
  name: string;
  /** The case it is played in, once it is opened. */
  id?: string;
  step: number;
}
function Player({ name, id, step }: PlayerProps) {
  const [demo, setDemo] = useState<DemoTalk | undefined>(undefined);
  const [trouble, setTrouble] = useState('');
  const [busy, setBusy] = useState(false);
  useEffect(() => {
    void api.demo(name).then((got) => (got.ok ? setDemo(got.value) : setTrouble(troubleWords(got.failure))));
  }, [name]);
  const next = demo?.steps[step];
  const play = async () => {
    if (!demo || !next || busy) return;
    setBusy(true);
    const caseId = id ?? (await open(demo, setTrouble));
    if (caseId && (await tellStep(caseId, next))) go({ at: 'demo', name, id: caseId, step: step + 1 });
    setBusy(false);
  };
  const strip = (
    <section class="demo-strip" aria-label="Invented talk">
      <StripHead name={name} demo={demo} playing={id !== undefined} />
      {trouble && (
        <p class="field-error" role="alert">
          {trouble}
        </p>
      )}
      {demo && next && <NextStep demo={demo} step={step} busy={busy} onPlay={() => void play()} />}
      {demo && !next && <p>That was the last step. Go on by yourself if you like.</p>}
      {!id && (
        <p>
          <a href={hashOf({ at: 'demo', step: 0 })}>All invented talks</a>
        </p>
      )}
    </section>
  );
  if (id) return <Record key={id} id={id} above={strip} />;
  return (
    <main id="record" class="sheet-of-paper" tabindex={-1}>
      {strip}
    </main>
  );
}

/** While it is played the case has the page's first heading. */
const StripHead = ({ name, demo, playing }: { name: string; demo: DemoTalk | undefined; playing: boolean }) => (
  <>
    <p class="tag">Invented talk{demo && `, ${audienceTitle(demo.audience)}`}</p>
    {playing ? <p class="demo-title">{demo?.title ?? name}</p> : <h1 class="demo-title">{demo?.title ?? name}</h1>}
    {!playing && demo?.scenario && <p>{demo.scenario}</p>}
  </>
);

interface NextProps {
  demo: DemoTalk;
  /** Counted from 0. */
  step: number;
  busy: boolean;
  onPlay: () => void;
}
const NextStep = ({ demo: { steps }, step, busy, onPlay }: NextProps) => (
  <p class="demo-next">
    <button type="button" class="main-button" disabled={busy} onClick={onPlay}>
      Play next step
    </button>
    <span>
      Step {step + 1} of {steps.length}: <q>{stepWords(steps[step]!)}</q>
    </span>
  </p>
);

/** @returns whether the step was taken */
function tellStep(id: string, { say, answer }: DemoStep): Promise<boolean> {
  const talk = talkOf(id);
  return say !== undefined ? talk.say(say) : talk.answer(answer ? [answer] : []);
}

/** @returns the case's id, undefined where none could be opened */
async function open(demo: DemoTalk, setTrouble: (text: string) => void): Promise<string | undefined> {
  // The talks are written in English.
  const opened = await api.open({ audience: demo.audience, units: keptUnits(), language: 'en' });
  if (opened.ok) return talkOf(opened.value.case.id, opened.value).id;
  setTrouble(troubleWords(opened.failure));
  return undefined;
}

const stepWords = ({ say, answer }: DemoStep): string =>
  say ?? (answer ? `${answer.fact.replaceAll('_', ' ')}: ${answer.value ?? answer.act ?? ''}` : '');
