import { type Board, drawPoints, emptyBoard } from './board.ts';
import { drawRow } from './draw-row.ts';
import type { Caption, Drawing } from './drawing.ts';
import { rowWords } from './row-words.ts';
import { type Row, rowsOf } from './rows.ts';
import type { Wiring, WiringRead } from './types.ts';
import { wrap } from './wrap.ts';

/** px from one line of words to the next, and the least height of a row by what it holds. */
const LINE = 14;
const HEAD_H = 32;
const LEAD_H = 20;
const PART_H = 30;

/** Where everything of the picture stands. Pure; the same circuit gives the same picture. `width` is in px of the page. */
export function layout(wiring: Wiring, read: WiringRead | undefined, width: number): Drawing {
  const all = rowsOf(wiring, read);
  const board = emptyBoard(wiring, all, width);
  const { drawing } = board;
  let top = 4;
  for (const row of all.rows) {
    const lines = captionsOf(row, board);
    const height = Math.max(leastHeight(row), lines.length * LINE + 6);
    const middle = top + height / 2;
    const first = middle - ((lines.length - 1) * LINE) / 2 + 4 + (row.is === 'head' ? 4 : 0);
    for (const [at, { kind, text }] of lines.entries())
      drawing.texts.push({ kind, x: board.textX, y: first + at * LINE, lines: [text] });
    drawRow(board, row, middle, top);
    top += height;
  }
  drawing.height = top + 4;
  drawPoints(board);
  return drawing;
}

const captionsOf = (row: Row, board: Board): { kind: Caption['kind']; text: string }[] =>
  rowWords(row, board).flatMap(({ kind, text }) => wrap(text, board.chars).map((line) => ({ kind, text: line })));

function leastHeight(row: Row): number {
  switch (row.is) {
    case 'head':
      return HEAD_H;
    case 'call':
      return LEAD_H;
    case 'branch':
      // A plain wire needs less than a part.
      return row.branch.kind === 'lead' && !row.clamp && !row.lifted ? LEAD_H : PART_H;
    default:
      return PART_H;
  }
}
