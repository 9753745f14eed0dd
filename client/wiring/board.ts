import type { Drawing, Tone, Wire } from './drawing.ts';
import type { Rows } from './rows.ts';
import { tracksOf } from './tracks.ts';
import type { Wiring, WiringBranch, WiringNode } from './types.ts';
import { CHAR } from './wrap.ts';

/** px from one track to the next. */
export const PITCH = 22;
const EDGE = 12;
/** px from a part's middle to its end. */
export const HALF = 8;

/** Where the line of a point is met, and whether current should flow there. `side`: from beside, so that a joint may be seen. */
interface Meeting {
  y: number;
  carries: boolean;
  side: boolean;
}
/** What is drawn on: where each point's line runs, how much room is left for words, and what is there so far. */
export interface Board {
  wiring: Wiring;
  nodes: ReadonlyMap<string, WiringNode>;
  /** Ends of the supply's conductors; no part stands on their lines. */
  posts: readonly string[];
  x: (node: string) => number;
  /** Where the words beside the picture begin, and how many characters fit. */
  textX: number;
  chars: number;
  met: Map<string, Meeting[]>;
  drawing: Drawing;
}

export function emptyBoard(wiring: Wiring, rows: Rows, width: number): Board {
  const tracks = tracksOf(rows);
  const textX = EDGE + (tracks.count - 1) * PITCH + 18;
  return {
    wiring,
    nodes: new Map(wiring.nodes.map((node) => [node.id, node])),
    posts: rows.posts,
    x: (node) => EDGE + (tracks.of.get(node) ?? 0) * PITCH,
    textX,
    chars: Math.max(10, Math.floor((width - textX) / CHAR)),
    met: new Map(),
    drawing: { width, height: 0, wires: [], symbols: [], marks: [], texts: [], leaders: [] },
  };
}

export const toneOf = ({ nodes }: Board, branch: WiringBranch, node: string): Tone =>
  branch.carries ? 'carries' : nodes.get(node)?.live ? 'live' : 'dead';

export function meet({ met }: Board, node: string, meeting: Meeting): void {
  met.set(node, [...(met.get(node) ?? []), meeting]);
}
export function wire({ drawing }: Board, tone: Tone, ...points: Wire['points']): void {
  drawing.wires.push({ tone, points });
}

/** Draws the lines of all points, each from where it is first met to where it is last met: once all else stands. */
export function drawPoints(board: Board): void {
  for (const [node, meetings] of board.met) {
    const down = meetings.toSorted((a, b) => a.y - b.y);
    const [from, to] = [down[0]!.y, down.at(-1)!.y];
    const flowing = down.filter(({ carries }) => carries);
    const x = board.x(node);
    if (to > from) wire(board, board.nodes.get(node)?.live ? 'live' : 'dead', [x, from], [x, to]);
    if (flowing.length > 1) wire(board, 'carries', [x, flowing[0]!.y], [x, flowing.at(-1)!.y]);
    for (const { side, y } of down) if (side && y > from && y < to) board.drawing.marks.push({ kind: 'joint', x, y });
  }
}
