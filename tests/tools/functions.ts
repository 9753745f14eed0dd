import { execFileSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { parseSync } from 'vite';

/** A function as it stands in a file: its lines from first to last, and its decisions (if, ?:, &&, ||, ??, case, loop, catch), those of functions inside it included. */
export interface FunctionSize {
  file: string;
  line: number;
  name: string;
  lines: number;
  decisions: number;
}

/** What a tree of the parser is walked by: any node has a type and a span of characters. */
interface Node {
  type: string;
  start: number;
  end: number;
  [key: string]: unknown;
}

const FUNCTIONS = new Set(['FunctionDeclaration', 'FunctionExpression', 'ArrowFunctionExpression']);
const DECISIONS = new Set([
  'IfStatement',
  'ConditionalExpression',
  'LogicalExpression',
  'ForStatement',
  'ForInStatement',
  'ForOfStatement',
  'WhileStatement',
  'DoWhileStatement',
  'CatchClause',
]);

const isNode = (x: unknown): x is Node => typeof x === 'object' && x !== null && typeof (x as Node).type === 'string';
const nameOf = (x: unknown) => (isNode(x) && typeof x.name === 'string' ? x.name : undefined);
const decides = (n: Node) => DECISIONS.has(n.type) || (n.type === 'SwitchCase' && n.test !== null);

/** Every function of one file, outer ones first. `code` is its text. */
export function functionsOf(file: string, code: string): FunctionSize[] {
  const starts = [0];
  for (let at = code.indexOf('\n'); at >= 0; at = code.indexOf('\n', at + 1)) starts.push(at + 1);
  const lineOf = (at: number) => starts.findLastIndex((s) => s <= at) + 1;
  const found: FunctionSize[] = [];

  const walk = (node: Node, called: string | undefined): number => {
    const isFunction = FUNCTIONS.has(node.type);
    const size: FunctionSize | undefined = isFunction
      ? {
          file,
          line: lineOf(node.start),
          name: nameOf(node.id) ?? called ?? '(unnamed)',
          lines: lineOf(node.end) - lineOf(node.start) + 1,
          decisions: 0,
        }
      : undefined;
    if (size) found.push(size);
    // The name a function is bound to: const f = () => …, { f() {} }, f: () => ….
    const inner = nameOf(node.id) ?? nameOf(node.key);
    let decisions = decides(node) ? 1 : 0;
    for (const value of Object.values(node)) {
      for (const child of Array.isArray(value) ? value : [value]) {
        if (isNode(child)) decisions += walk(child, isFunction ? undefined : (inner ?? called));
      }
    }
    if (size) size.decisions = decisions;
    return decisions;
  };
  walk(parseSync(file, code).program as unknown as Node, undefined);
  return found;
}

/** The program's own code: no tests, no settings of tools. */
export function codeFiles(): string[] {
  const tracked = execFileSync('git', ['ls-files', '--cached', '--others', '--exclude-standard'], { encoding: 'utf8' });
  return tracked
    .trim()
    .split('\n')
    .filter((f) => /^(rules|server|client)\/.*\.(ts|tsx)$/.test(f) && !f.endsWith('.config.ts'));
}

/** The planner and the inner workings of hearing have their own rules of size. */
export const elsewhere = (file: string) => /^server\/understand\/|^rules\/engine\/(plan|next-check|table)\.ts$/.test(file);

export const allFunctions = (): FunctionSize[] => codeFiles().flatMap((f) => functionsOf(f, readFileSync(f, 'utf8')));
