import type { ChartData } from './charts.ts';

const [WIDTH, HEIGHT] = [320, 200];
const [LEFT, RIGHT, TOP, BOTTOM] = [48, 14, 12, 38];
const FLOOR = HEIGHT - BOTTOM;

/** Where values of a chart lie on the drawing, to a tenth of a px. */
interface Scale {
  left: number;
  x: (value: number) => number;
  y: (value: number) => number;
}
function scaleOf({ x, y }: ChartData): Scale {
  const left = y.ticks.length > 0 ? LEFT : 12;
  return {
    left,
    x: (value) => round(left + ((WIDTH - left - RIGHT) * (value - x.from)) / (x.to - x.from)),
    y: (value) => round(FLOOR - ((FLOOR - TOP) * (value - y.from)) / (y.to - y.from)),
  };
}
const round = (value: number) => Math.round(value * 10) / 10;

/** One small chart. Marks differ by shape; the words below say all of it. */
export function Chart({ chart }: { chart: ChartData }) {
  const scale = scaleOf(chart);
  return (
    <figure class="curve">
      <figcaption>
        <h4>{chart.title}</h4>
      </figcaption>
      <svg viewBox={`0 0 ${WIDTH} ${HEIGHT}`} role="img" aria-label={`${chart.title}. ${chart.says.join(' ')}`}>
        {chart.bands.map(({ from, to }) => {
          const width = Math.max(1, scale.x(to) - scale.x(from));
          return <rect class="curve-band" x={scale.x(from)} y={TOP} width={width} height={FLOOR - TOP} />;
        })}
        <Axes chart={chart} scale={scale} />
        <Curves chart={chart} scale={scale} />
      </svg>
      <Lines of={chart.says} />
      {chart.sources.length > 0 && (
        <details class="noted">
          <summary>Sources</summary>
          <Lines of={chart.sources} />
        </details>
      )}
    </figure>
  );
}

interface Props {
  chart: ChartData;
  scale: Scale;
}

const Axes = ({ chart: { x, y }, scale }: Props) => (
  <>
    {y.ticks.map(({ at, text }) => (
      <g>
        <line class="curve-grid" x1={scale.left} x2={WIDTH - RIGHT} y1={scale.y(at)} y2={scale.y(at)} />
        <text class="curve-y" x={scale.left - 5} y={scale.y(at) + 4}>
          {text}
        </text>
      </g>
    ))}
    {x.ticks.map(({ at, text }) => (
      <g>
        <line class="curve-axis" x1={scale.x(at)} x2={scale.x(at)} y1={FLOOR} y2={FLOOR + 4} />
        <text class="curve-x" x={scale.x(at)} y={FLOOR + 16}>
          {text}
        </text>
      </g>
    ))}
    <line class="curve-axis" x1={scale.left} x2={WIDTH - RIGHT} y1={FLOOR} y2={FLOOR} />
    <text class="curve-x" x={(scale.left + WIDTH - RIGHT) / 2} y={FLOOR + 32}>
      {x.label}
    </text>
  </>
);

const Curves = ({ chart, scale }: Props) => (
  <>
    {chart.lines.map(({ points, dashed }) => (
      <polyline
        class={dashed ? 'curve-line dashed' : 'curve-line'}
        points={points.map(([x, y]) => `${scale.x(x)} ${scale.y(y)}`).join(' ')}
      />
    ))}
    {chart.marks.map(({ x, y, shape }) => {
      const [cx, cy] = [scale.x(x), scale.y(y)];
      if (shape === 'tick') return <line class="curve-tick" x1={cx} x2={cx} y1={cy - 8} y2={cy + 8} />;
      return <circle class={shape} cx={cx} cy={cy} r={shape === 'ring' ? 5.5 : 4.5} />;
    })}
    {chart.notes.map(({ x, y, text }) => (
      <text class="curve-note" x={scale.x(x)} y={scale.y(y)}>
        {text}
      </text>
    ))}
  </>
);

const Lines = ({ of }: { of: readonly string[] }) => (
  <ul class="curve-says">
    {of.map((text) => (
      <li>{text}</li>
    ))}
  </ul>
);
