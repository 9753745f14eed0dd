import { useEffect, useState } from 'hono/jsx/dom';
import { word } from '../say.ts';
import { describe } from './describe.ts';
import type { Drawing, PointMark, Tone, Wire } from './drawing.ts';
import { layout } from './layout.ts';
import { PartSymbol } from './symbol.tsx';
import type { Wiring } from './types.ts';
import './wiring.css';

const WIDE = '(min-width: 40rem)';
const [NARROW_PX, WIDE_PX] = [300, 460];

/** The circuit drawn; one reading's leads at a time, since two pairs on one picture would cross. */
export function Picture({ wiring }: { wiring: Wiring }) {
  const [chosen, choose] = useState(0);
  const width = usePictureWidth();
  const read = wiring.reads[chosen] ?? wiring.reads[0];
  const { title, short } = describe({ ...wiring, reads: read ? [read] : [] });
  return (
    <>
      {wiring.reads.length > 1 && (
        <fieldset class="wiring-reads" aria-label={word('wiring-drawn')}>
          {wiring.reads.map(({ label }, at) => (
            <button type="button" aria-pressed={at === chosen ? 'true' : 'false'} onClick={() => choose(at)}>
              {label}
            </button>
          ))}
        </fieldset>
      )}
      <Circuit drawing={layout(wiring, read, width)} title={title} short={short} />
      <Legend wiring={wiring} />
    </>
  );
}

/** px the picture is laid out for; it follows the window. */
function usePictureWidth(): number {
  const [wide, setWide] = useState(matchMedia(WIDE).matches);
  useEffect(() => {
    const query = matchMedia(WIDE);
    const fit = () => setWide(query.matches);
    query.addEventListener('change', fit);
    return () => query.removeEventListener('change', fit);
  }, []);
  return wide ? WIDE_PX : NARROW_PX;
}

/** What lies on top comes last: a line that carries over one that is live, parts over lines. */
const TONES: readonly Tone[] = ['dead', 'live', 'carries'];

const Circuit = ({ drawing, title, short }: { drawing: Drawing; title: string; short: string }) => (
  <svg
    class="wiring-picture"
    viewBox={`0 0 ${drawing.width} ${drawing.height}`}
    role="img"
    aria-labelledby="wiring-title"
    aria-describedby="wiring-desc"
  >
    <title id="wiring-title">{title}</title>
    <desc id="wiring-desc">{short}</desc>
    {TONES.flatMap((tone) => drawing.wires.filter((wire) => wire.tone === tone).map((wire) => <WireLine wire={wire} />))}
    {drawing.leaders.map(({ x1, x2, y }) => (
      <line class="leader" x1={x1} x2={x2} y1={y} y2={y} />
    ))}
    {drawing.symbols.map((symbol) => (
      <PartSymbol symbol={symbol} />
    ))}
    {drawing.marks.map((mark) => (
      <MarkAt mark={mark} />
    ))}
    {drawing.texts.map(({ kind, x, y, lines }) => (
      <text class={`words ${kind}`} x={kind === 'post' ? x + 5 : x} y={y}>
        {lines[0]}
      </text>
    ))}
  </svg>
);

function WireLine({ wire: { tone, points } }: { wire: Wire }) {
  const path = points.map(([x, y]) => `${x} ${y}`).join(' ');
  if (tone !== 'carries') return <polyline class={`wire ${tone}`} points={path} />;
  return (
    <g>
      <polyline class="wire carries" points={path} />
      <polyline class="wire carries-core" points={path} />
    </g>
  );
}

/** What the kinds of line and the marks mean. */
const Legend = ({ wiring }: { wiring: Wiring }) => (
  <ul class="wiring-key">
    {wiring.nodes.some(({ live }) => live) && <LegendLine text={word('wiring-key-live')} line="live" />}
    {wiring.branches.some(({ carries }) => carries) && <LegendLine text={word('wiring-key-carries')} line="carries" />}
    <LegendLine text={word(DEAD[wiring.offAt ?? 'none'])} line="dead" />
    <li>
      <svg viewBox="0 0 24 12" aria-hidden="true">
        <path class="suspect-mark likely" d="M8 1l4.5 5l-4.5 5l-4.5 -5z" />
        <path class="suspect-mark" d="M19 1l4.5 5l-4.5 5l-4.5 -5z" />
      </svg>
      {word('wiring-key-suspect')}
    </li>
  </ul>
);

const DEAD = { plug: 'wiring-key-out', breaker: 'wiring-key-off', none: 'wiring-key-dead' } as const;

const LegendLine = ({ text, line }: { text: string; line: Tone }) => (
  <li>
    <svg viewBox="0 0 24 12" aria-hidden="true">
      <polyline class={`wire ${line}`} points="0 6 24 6" />
      {line === 'carries' && <polyline class="wire carries-core" points="0 6 24 6" />}
    </svg>
    {text}
  </li>
);

function MarkAt({ mark: { kind, x, y } }: { mark: PointMark }) {
  switch (kind) {
    case 'joint':
      return <circle class="joint" cx={x} cy={y} r="3" />;
    case 'post':
      return <circle class="post-ring" cx={x} cy={y} r="4.5" />;
    case 'lift':
      return <path class="lift" d={`M${x - 6} ${y - 6}l12 12m0 -12l-12 12`} />;
    default:
      // A letter in the probe, so that it never hangs on the colour.
      return (
        <g class={`probe ${kind}`}>
          {kind === 'red' ? <circle cx={x} cy={y} r="8" /> : <rect x={x - 7.5} y={y - 7.5} width="15" height="15" />}
          <text x={x} y={y + 4}>
            {kind === 'red' ? 'R' : 'B'}
          </text>
        </g>
      );
  }
}
