import type { Chart as ChartData } from './charts.ts';

const [WIDTH, HEIGHT] = [320, 200];
const [LEFT, RIGHT, TOP, BOTTOM] = [48, 14, 12, 38];

/** One small chart. Marks differ by shape; the words below say all of it. */
export function Chart({ chart }: { chart: ChartData }) {
  const { x, y } = chart;
  const left = y.ticks.length > 0 ? LEFT : 12;
  const px = (value: number) => round(left + ((WIDTH - left - RIGHT) * (value - x.from)) / (x.to - x.from));
  const py = (value: number) => round(HEIGHT - BOTTOM - ((HEIGHT - BOTTOM - TOP) * (value - y.from)) / (y.to - y.from));
  const floor = HEIGHT - BOTTOM;
  return (
    <figure class="curve">
      <figcaption>
        <h4>{chart.title}</h4>
      </figcaption>
      <svg viewBox={`0 0 ${WIDTH} ${HEIGHT}`} role="img" aria-label={`${chart.title}. ${chart.says.join(' ')}`}>
        {chart.bands.map(({ from, to }) => (
          <rect class="curve-band" x={px(from)} y={TOP} width={Math.max(1, px(to) - px(from))} height={floor - TOP} />
        ))}
        {y.ticks.map(({ at, text }) => (
          <g>
            <line class="curve-grid" x1={left} x2={WIDTH - RIGHT} y1={py(at)} y2={py(at)} />
            <text class="curve-y" x={left - 5} y={py(at) + 4}>
              {text}
            </text>
          </g>
        ))}
        {x.ticks.map(({ at, text }) => (
          <g>
            <line class="curve-axis" x1={px(at)} x2={px(at)} y1={floor} y2={floor + 4} />
            <text class="curve-x" x={px(at)} y={floor + 16}>
              {text}
            </text>
          </g>
        ))}
        <line class="curve-axis" x1={left} x2={WIDTH - RIGHT} y1={floor} y2={floor} />
        <text class="curve-x" x={(left + WIDTH - RIGHT) / 2} y={floor + 32}>
          {x.label}
        </text>
        {chart.lines.map(({ points, dashed }) => (
          <polyline
            class={dashed ? 'curve-line dashed' : 'curve-line'}
            points={points.map(([a, b]) => `${px(a)} ${py(b)}`).join(' ')}
          />
        ))}
        {chart.marks.map(({ x: a, y: b, shape }) => {
          const [cx, cy] = [px(a), py(b)];
          if (shape === 'tick') return <line class="curve-tick" x1={cx} x2={cx} y1={cy - 8} y2={cy + 8} />;
          return <circle class={shape} cx={cx} cy={cy} r={shape === 'ring' ? 5.5 : 4.5} />;
        })}
        {chart.notes.map(({ x: a, y: b, text }) => (
          <text class="curve-note" x={px(a)} y={py(b)}>
            {text}
          </text>
        ))}
      </svg>
      <ul class="curve-says">
        {chart.says.map((text) => (
          <li>{text}</li>
        ))}
      </ul>
      {chart.sources.length > 0 && (
        <details class="noted">
          <summary>Sources</summary>
          <ul class="curve-says">
            {chart.sources.map((text) => (
              <li>{text}</li>
            ))}
          </ul>
        </details>
      )}
    </figure>
  );
}
const round = (value: number) => Math.round(value * 10) / 10;
