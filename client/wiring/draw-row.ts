import { type Board, HALF, meet, PITCH, toneOf, wire } from './board.ts';
import type { Row } from './rows.ts';
import type { WiringBranch } from './types.ts';

/** Draws what one row holds; its words are written elsewhere. `y` is its middle, `top` its upper edge. */
export function drawRow(board: Board, row: Row, y: number, top: number): void {
  switch (row.is) {
    case 'stage':
      for (const branch of row.branches) drawSupply(board, branch, y, top);
      return;
    case 'posts':
      for (const node of row.nodes) drawPost(board, node, y);
      return;
    case 'call':
      drawCall(board, row, y);
      return;
    case 'branch':
      drawBranch(board, row, y);
  }
}

function drawPost(board: Board, node: string, y: number): void {
  const x = board.x(node);
  meet(board, node, { y, carries: false, side: false });
  board.drawing.marks.push({ kind: 'post', x, y });
  board.drawing.texts.push({ kind: 'post', x, y: y - 8, lines: [node] });
}

function drawCall(board: Board, { node, kind }: Extract<Row, { is: 'call' }>, y: number): void {
  const x = board.x(node);
  meet(board, node, { y, carries: false, side: false });
  board.drawing.marks.push({ kind, x, y });
  board.drawing.leaders.push({ x1: x + 7, x2: board.textX - 3, y });
}

/** One branch of the supply: upright on the line of its lower end. */
function drawSupply(board: Board, branch: WiringBranch, y: number, top: number): void {
  const { met, x } = board;
  const { a, b, carries } = branch;
  const [upper, lower] = met.has(b) && !met.has(a) ? [b, a] : [a, b];
  const at = x(lower);
  drawPart(board, branch, { at, y, upright: true });
  if (x(upper) === at) meet(board, upper, { y: y - HALF, carries, side: false });
  else {
    const over = top + 2;
    meet(board, upper, { y: over, carries, side: true });
    wire(board, toneOf(board, branch, upper), [x(upper), over], [at, over], [at, y - HALF]);
  }
  meet(board, lower, { y: y + HALF, carries, side: false });
}

type BranchRow = Extract<Row, { is: 'branch' }>;

/** A branch between two points: upright where both run on one line, else lying between their lines. */
function drawBranch(board: Board, row: BranchRow, y: number): void {
  const { met, x } = board;
  const { a, b, carries } = row.branch;
  const [old, fresh] = met.has(b) && !met.has(a) ? [b, a] : [a, b];
  const upright = x(old) === x(fresh);
  if (upright) drawPart(board, row.branch, { at: x(old), y, upright, ...howOf(row) });
  else drawAcross(board, row, old, fresh, y);
  meet(board, old, { y: upright ? y - HALF : y, carries, side: !upright });
  meet(board, fresh, { y: upright ? y + HALF : y, carries, side: !upright });
}

/** The symbol stands in the gap beside the inner end, where no line can cross it. */
function drawAcross(board: Board, row: BranchRow, old: string, fresh: string, y: number): void {
  const { posts, x } = board;
  const { branch } = row;
  const inner = posts.includes(fresh) ? old : fresh;
  const outer = inner === fresh ? old : fresh;
  const side = x(outer) < x(inner) ? -1 : 1;
  const at = x(inner) + (side * PITCH) / 2;
  drawPart(board, branch, { at, y, upright: false, ...howOf(row) });
  wire(board, toneOf(board, branch, inner), [x(inner), y], [at - side * HALF, y]);
  wire(board, toneOf(board, branch, outer), [at + side * HALF, y], [x(outer), y]);
}

const howOf = ({ clamp, lifted }: BranchRow) => ({ clamp, lifted });

interface Place {
  at: number;
  y: number;
  upright: boolean;
  clamp?: boolean;
  lifted?: boolean;
}
function drawPart(board: Board, branch: WiringBranch, { at, y, upright, clamp = false, lifted = false }: Place): void {
  const { a, b, kind, carries, closed, suspects } = branch;
  const live = board.nodes.get(a)?.live && board.nodes.get(b)?.live;
  const [across, down] = upright ? [0, HALF] : [HALF, 0];
  // A plain wire is the line itself.
  if (kind === 'lead' && !lifted) wire(board, toneOf(board, branch, a), [at - across, y - down], [at + across, y + down]);
  board.drawing.symbols.push({
    branch,
    x: at,
    y,
    upright,
    tone: carries ? 'carries' : live && closed ? 'live' : 'dead',
    lifted,
    clamp,
    suspect: suspects[0]?.share,
  });
}
