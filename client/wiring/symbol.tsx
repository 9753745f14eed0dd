import type { DrawnPart } from './drawing.ts';

/** From which share on a suspect's mark is filled. */
const LIKELY = 0.1;

/** One part. Its kind is a shape: a switch open or shut, a heater, a resistor, a winding, a plain wire. */
export function PartSymbol({ symbol }: { symbol: DrawnPart }) {
  const { branch, x, y, upright, tone, lifted, clamp, suspect } = symbol;
  const path = lifted ? LIFTED : branch.kind === 'contact' ? (branch.closed ? SHUT : OPEN) : PATHS[branch.kind];
  const [dx, dy] = upright ? [11, 0] : [0, -9];
  return (
    <g class={`part ${tone} ${branch.kind}`} transform={`translate(${x} ${y})`}>
      {path && <path class="part-line" transform={upright ? 'rotate(90)' : undefined} d={path} />}
      {clamp && <ellipse class="clamp" rx={upright ? 9 : 4} ry={upright ? 4 : 9} />}
      {suspect !== undefined && (
        <path class={suspect >= LIKELY ? 'suspect-mark likely' : 'suspect-mark'} d={`M${dx} ${dy - 5}l4.5 5l-4.5 5l-4.5 -5z`} />
      )}
    </g>
  );
}

const SHUT = 'M-8 0h2M6 0h2M-6 -2v4M6 -2v4M-6 0h12';
const OPEN = 'M-8 0h2M6 0h2M-6 -2v4M6 -2v4M-6 0l10 -6';
const LIFTED = 'M-8 0h4M4 0h4M-4 -5v10M4 -5v10';
const PATHS = {
  lead: undefined,
  coil: 'M-8 0l1.3 -5l2.7 10l2.7 -10l2.6 10l2.7 -10l2.7 10l1.3 -5',
  resistor: 'M-8 -4h16v8h-16z',
  winding: 'M-8 0a2.67 4 0 0 1 5.33 0a2.67 4 0 0 1 5.34 0a2.67 4 0 0 1 5.33 0',
};
