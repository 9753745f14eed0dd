import { useEffect, useState } from 'hono/jsx/dom';
import { Record } from './case/record.tsx';
import { lastCase } from './kept.ts';
import { StateLine } from './offline/state-line.tsx';
import { hashOf, type Route, readRoute } from './route.ts';
import { Demo } from './views/demo.tsx';
import { QuickReading } from './views/quick-reading.tsx';
import { Sheet } from './views/sheet.tsx';
import { Start } from './views/start.tsx';

const TITLES: Record<Route['at'], string> = {
  start: 'Cold Drum',
  case: 'Case – Cold Drum',
  sheet: 'Job sheet – Cold Drum',
  reading: 'One reading – Cold Drum',
  demo: 'Invented talks – Cold Drum',
};

export function App() {
  const [route, setRoute] = useState<Route>(readRoute(location.hash));
  useEffect(() => {
    const onHash = () => setRoute(readRoute(location.hash));
    addEventListener('hashchange', onHash);
    return () => removeEventListener('hashchange', onHash);
  }, []);
  useEffect(() => {
    document.title = TITLES[route.at];
  }, [route.at]);
  // The case's own address stays in the strip while its sheet or a reading is looked at.
  const id = 'id' in route && route.id ? route.id : lastCase()?.id;
  return (
    <>
      {/* biome-ignore lint/a11y/useValidAnchor: a skip link goes somewhere; the hash holds the route, so it moves focus by hand. */}
      <a class="skip" href="#record" onClick={skip}>
        Skip to the record
      </a>
      <header class="masthead">
        <a class="name" href={hashOf({ at: 'start' })}>
          Cold Drum
        </a>
        <nav aria-label="Pages">
          <Tab to={id ? { at: 'case', id } : { at: 'start' }} at={['start', 'case']} route={route} text="Case" />
          <Tab to={{ at: 'sheet', ...(id && { id }) }} at={['sheet']} route={route} text="Job sheet" />
          <Tab to={{ at: 'reading' }} at={['reading']} route={route} text="One reading" />
          <Tab to={{ at: 'demo', step: 0 }} at={['demo']} route={route} text="Demo" />
        </nav>
        {route.at === 'case' && (
          <p class="case-number">
            <span class="tag">No.</span> {route.id.slice(0, 6)}
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
