import { type CallKind, type Row, rowsOf } from './rows.ts';
import { tracksOf } from './tracks.ts';
import type { Wiring, WiringBranch, WiringNode, WiringRead } from './types.ts';
import { CHAR, wrap } from './wrap.ts';

/** dead: a thin line. live: a thick one. carries: two lines, current should flow here. */
export type Tone = 'dead' | 'live' | 'carries';
export interface Wire {
  tone: Tone;
  points: [x: number, y: number][];
}
export interface Part {
  branch: WiringBranch;
  x: number;
  y: number;
  upright: boolean;
  tone: Tone;
  lifted: boolean;
  clamp: boolean;
  /** Share of the likeliest suspect that lies here. */
  suspect: number | undefined;
}
export interface Mark {
  kind: CallKind | 'post' | 'joint';
  x: number;
  y: number;
}
export interface Text {
  kind: 'head' | 'part' | 'lead' | 'call' | 'marked' | 'post';
  x: number;
  y: number;
  lines: string[];
}
export interface Drawing {
  width: number;
  height: number;
  wires: Wire[];
  symbols: Part[];
  marks: Mark[];
  texts: Text[];
  /** From a point to the words about it. */
  leaders: { x1: number; x2: number; y: number }[];
}

const PITCH = 22;
const EDGE = 12;
const LINE = 14;
const HALF = 8;
const LEAD_H = 20;
const PART_H = 30;
const CALLS: Record<CallKind, string> = { red: 'Red lead', black: 'Black lead', lift: 'Take off' };

/** Where everything of the picture stands. Pure; the same circuit gives the same picture. `width` is in px of the page. */
export function layout(wiring: Wiring, read: WiringRead | undefined, width: number): Drawing {
  const all = rowsOf(wiring, read);
  const tracks = tracksOf(all);
  const nodes = new Map(wiring.nodes.map((n) => [n.id, n]));
  const x = (node: string) => EDGE + (tracks.of.get(node) ?? 0) * PITCH;
  const textX = EDGE + (tracks.count - 1) * PITCH + 18;
  const chars = Math.max(10, Math.floor((width - textX) / CHAR));
  const out: Drawing = { width, height: 0, wires: [], symbols: [], marks: [], texts: [], leaders: [] };
  /** Point -> where its line is met, and whether current should flow there. */
  const met = new Map<string, { y: number; carries: boolean; side: boolean }[]>();
  const meet = (node: string, y: number, carries: boolean, side: boolean) =>
    met.set(node, [...(met.get(node) ?? []), { y, carries, side }]);
  const tone = (b: WiringBranch, node: string): Tone => (b.carries ? 'carries' : nodes.get(node)?.live ? 'live' : 'dead');

  let top = 4;
  for (const row of all.rows) {
    const words = wordsOf(row, wiring, nodes);
    const lines = words.flatMap(({ kind, text }) => wrap(text, chars).map((line) => ({ kind, line })));
    const least = row.is === 'branch' && row.branch.kind === 'lead' && !row.clamp && !row.lifted ? LEAD_H : PART_H;
    const height = Math.max(row.is === 'head' ? 32 : row.is === 'call' ? LEAD_H : least, lines.length * LINE + 6);
    const y = top + height / 2;
    const first = y - ((lines.length - 1) * LINE) / 2 + 4 + (row.is === 'head' ? 4 : 0);
    for (const [i, { kind, line }] of lines.entries()) out.texts.push({ kind, x: textX, y: first + i * LINE, lines: [line] });
    draw(row, y, top);
    top += height;
  }
  out.height = top + 4;
  for (const [node, at] of met) {
    const ys = at.toSorted((p, q) => p.y - q.y);
    const [from, to] = [ys[0]!.y, ys.at(-1)!.y];
    const flowing = ys.filter((p) => p.carries);
    const live = nodes.get(node)?.live ? 'live' : 'dead';
    if (to > from)
      out.wires.push({
        tone: live,
        points: [
          [x(node), from],
          [x(node), to],
        ],
      });
    if (flowing.length > 1)
      out.wires.push({
        tone: 'carries',
        points: [
          [x(node), flowing[0]!.y],
          [x(node), flowing.at(-1)!.y],
        ],
      });
    for (const p of ys) if (p.side && p.y > from && p.y < to) out.marks.push({ kind: 'joint', x: x(node), y: p.y });
  }
  return out;

  function draw(row: Row, y: number, above: number): void {
    if (row.is === 'stage') for (const b of row.branches) stage(b, y, above);
    else if (row.is === 'posts')
      for (const node of row.nodes) {
        meet(node, y, false, false);
        out.marks.push({ kind: 'post', x: x(node), y });
        out.texts.push({ kind: 'post', x: x(node), y: y - 8, lines: [node] });
      }
    else if (row.is === 'call') {
      meet(row.node, y, false, false);
      out.marks.push({ kind: row.kind, x: x(row.node), y });
      out.leaders.push({ x1: x(row.node) + 7, x2: textX - 3, y });
    } else if (row.is === 'branch') branch(row.branch, y, row);
  }

  function stage(b: WiringBranch, y: number, above: number): void {
    const [upper, below] = (met.get(b.b)?.length ?? 0) > 0 && !met.has(b.a) ? [b.b, b.a] : [b.a, b.b];
    const at = x(below);
    put(b, at, y, true, {});
    if (x(upper) === at) meet(upper, y - HALF, b.carries, false);
    else {
      meet(upper, above + 2, b.carries, true);
      out.wires.push({
        tone: tone(b, upper),
        points: [
          [x(upper), above + 2],
          [at, above + 2],
          [at, y - HALF],
        ],
      });
    }
    meet(below, y + HALF, b.carries, false);
  }

  function branch(b: WiringBranch, y: number, how: { clamp: boolean; lifted: boolean }): void {
    const [old, fresh] = met.has(b.b) && !met.has(b.a) ? [b.b, b.a] : [b.a, b.b];
    if (x(old) === x(fresh)) {
      put(b, x(old), y, true, how);
      meet(old, y - HALF, b.carries, false);
      meet(fresh, y + HALF, b.carries, false);
      return;
    }
    // The symbol stands in the gap beside the inner end, where no line can cross it.
    const fixed = (node: string) => all.posts.includes(node);
    const by = fixed(fresh) ? old : fresh;
    const away = by === fresh ? old : fresh;
    const side = x(away) < x(by) ? -1 : 1;
    const at = x(by) + (side * PITCH) / 2;
    put(b, at, y, false, how);
    out.wires.push({
      tone: tone(b, by),
      points: [
        [x(by), y],
        [at - side * HALF, y],
      ],
    });
    out.wires.push({
      tone: tone(b, away),
      points: [
        [at + side * HALF, y],
        [x(away), y],
      ],
    });
    meet(old, y, b.carries, true);
    meet(fresh, y, b.carries, true);
  }

  function put(b: WiringBranch, at: number, y: number, upright: boolean, how: { clamp?: boolean; lifted?: boolean }): void {
    const live = nodes.get(b.a)?.live && nodes.get(b.b)?.live;
    // A plain wire is the line itself.
    const [dx, dy] = upright ? [0, HALF] : [HALF, 0];
    if (b.kind === 'lead' && !how.lifted)
      out.wires.push({
        tone: tone(b, b.a),
        points: [
          [at - dx, y - dy],
          [at + dx, y + dy],
        ],
      });
    out.symbols.push({
      branch: b,
      x: at,
      y,
      upright,
      tone: b.carries ? 'carries' : live && b.closed ? 'live' : 'dead',
      lifted: how.lifted ?? false,
      clamp: how.clamp ?? false,
      suspect: b.suspects[0]?.share,
    });
  }
}

/** What is written beside a row. */
function wordsOf(row: Row, wiring: Wiring, nodes: ReadonlyMap<string, WiringNode>): { kind: Text['kind']; text: string }[] {
  switch (row.is) {
    case 'head':
      return [{ kind: 'head', text: row.title }];
    case 'posts':
      return [{ kind: 'part', text: row.label }];
    case 'stage':
      return [
        { kind: marked(row.branches) ? 'marked' : 'lead', text: `${row.label}${row.branches.some(isOpen) ? OPEN_NOW : ''}` },
      ];
    case 'call':
      return [
        {
          kind: 'call',
          text: `${CALLS[row.kind]}: ${row.kind === 'lift' ? (wiring.lift?.what ?? '') : (nodes.get(row.node)?.name ?? row.node)}`,
        },
      ];
    case 'branch': {
      const { branch, clamp, lifted } = row;
      const plain = branch.kind === 'lead' ? 'lead' : 'part';
      const text = `${branch.part}${isOpen(branch) ? OPEN_NOW : ''}`;
      return [
        { kind: marked([branch]) ? 'marked' : plain, text },
        ...(clamp ? [{ kind: 'call' as const, text: 'Clamp: round this one' }] : []),
        ...(lifted ? [{ kind: 'call' as const, text: 'Open while the lead is off' }] : []),
      ];
    }
  }
}
const marked = (branches: readonly WiringBranch[]) => branches.some((b) => b.suspects.length > 0);
const OPEN_NOW = ' (open now)';
const isOpen = ({ kind, closed }: WiringBranch) => kind === 'contact' && !closed;
