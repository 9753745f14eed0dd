import type { Board } from './board.ts';
import type { CaptionKind } from './drawing.ts';
import type { CallKind, Row } from './rows.ts';
import type { WiringBranch } from './types.ts';

interface RowWords {
  kind: CaptionKind;
  text: string;
}
const CALLS: Record<CallKind, string> = { red: 'Red lead', black: 'Black lead', lift: 'Take off' };
const OPEN_NOW = ' (open now)';

/** What is written beside a row. */
export function rowWords(row: Row, { wiring, nodes }: Pick<Board, 'wiring' | 'nodes'>): RowWords[] {
  switch (row.is) {
    case 'head':
      return [{ kind: 'head', text: row.title }];
    case 'posts':
      return [{ kind: 'part', text: row.label }];
    case 'stage':
      return [{ kind: marked(row.branches) ? 'marked' : 'lead', text: row.label + openNow(row.branches) }];
    case 'call': {
      const what = row.kind === 'lift' ? (wiring.lift?.what ?? '') : (nodes.get(row.node)?.name ?? row.node);
      return [{ kind: 'call', text: `${CALLS[row.kind]}: ${what}` }];
    }
    case 'branch':
      return branchWords(row);
  }
}

function branchWords({ branch, clamp, lifted }: Extract<Row, { is: 'branch' }>): RowWords[] {
  const plain = branch.kind === 'lead' ? 'lead' : 'part';
  return [
    { kind: marked([branch]) ? 'marked' : plain, text: branch.part + openNow([branch]) },
    ...(clamp ? [{ kind: 'call' as const, text: 'Clamp: round this one' }] : []),
    ...(lifted ? [{ kind: 'call' as const, text: 'Open while the lead is off' }] : []),
  ];
}

const marked = (branches: readonly WiringBranch[]): boolean => branches.some(({ suspects }) => suspects.length > 0);
const openNow = (branches: readonly WiringBranch[]): string =>
  branches.some(({ kind, closed }) => kind === 'contact' && !closed) ? OPEN_NOW : '';
