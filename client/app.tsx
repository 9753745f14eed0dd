import { useEffect, useRef, useState } from 'hono/jsx/dom';
import { Record } from './case/record.tsx';
import { lastCase } from './kept.ts';
import { StateLine } from './offline/state-line.tsx';
import { hashOf, type Route, readRoute } from './route.ts';
import { onSpoken, spokenNow, word } from './say.ts';
import { Demo } from './views/demo.tsx';
import { QuickReading } from './views/quick-reading.tsx';
import { Sheet } from './views/sheet.tsx';
import { Start } from './views/start.tsx';

export function App() {
  const [route, setRoute] = useState<Route>(readRoute(location.hash));
  useEffect(() => {
    const onHash = () => setRoute(readRoute(location.hash));
    addEventListener('hashchange', onHash);
    return () => removeEventListener('hashchange', onHash);
  }, []);
  const [language, setLanguage] = useState(spokenNow());
  // All words are asked for anew when the page is drawn again from here.
  useEffect(() => onSpoken(() => setLanguage(spokenNow())), []);
  useEffect(() => {
    document.title = word(`title-${route.at}`);
  }, [route.at, language]);
  // Another view: focus goes into it, as it does where a page is fetched anew. A view that takes focus by itself keeps it.
  const shown = useRef('');
  const view = `${route.at}/${'id' in route ? (route.id ?? '') : ''}`;
  useEffect(() => {
    const moved = shown.current !== '' && shown.current !== view;
    shown.current = view;
    if (!moved || document.activeElement?.closest('#record')) return;
    document.getElementById('record')?.focus({ preventScroll: true });
    scrollTo(0, 0);
  }, [view]);
  // The case's own address stays in the strip while its sheet or a reading is looked at.
  const id = 'id' in route && route.id ? route.id : lastCase()?.id;
  return (
    <>
      {/* biome-ignore lint/a11y/useValidAnchor: a skip link goes somewhere; the hash holds the route, so it moves focus by hand. */}
      <a class="skip" href="#record" onClick={skip}>
        {word('skip')}
      </a>
      <header class="masthead">
        <a class="name" href={hashOf({ at: 'start' })}>
          Cold Drum
        </a>
        <nav aria-label={word('pages')}>
          <Tab to={id ? { at: 'case', id } : { at: 'start' }} at={['start', 'case']} route={route} text={word('tab-case')} />
          <Tab to={{ at: 'sheet', ...(id && { id }) }} at={['sheet']} route={route} text={word('tab-sheet')} />
          <Tab to={{ at: 'reading' }} at={['reading']} route={route} text={word('tab-reading')} />
          <Tab to={{ at: 'demo', step: 0 }} at={['demo']} route={route} text={word('tab-demo')} />
        </nav>
        {route.at === 'case' && (
          <p class="case-number">
            <span class="tag">{word('number-short')}</span> {route.id.slice(0, 6)}
          </p>
        )}
      </header>
      <StateLine />
      <View route={route} />
    </>
  );
}

function View({ route }: { route: Route }) {
  switch (route.at) {
    case 'case':
      return <Record key={route.id} id={route.id} />;
    case 'sheet':
      return <Sheet key={route.id} id={route.id} />;
    case 'reading':
      return <QuickReading />;
    case 'demo':
      return <Demo name={route.name} id={route.id} step={route.step} />;
    default:
      return <Start />;
  }
}

const Tab = ({ to, at, route, text }: { to: Route; at: Route['at'][]; route: Route; text: string }) => (
  <a href={hashOf(to)} aria-current={at.includes(route.at) ? 'page' : undefined}>
    {text}
  </a>
);

function skip(e: Event) {
  e.preventDefault();
  document.getElementById('record')?.focus();
}
