import { readFileSync } from 'node:fs';
import { allFunctions, codeFiles, elsewhere } from './functions.ts';

/** Prints what is long: functions over 60 lines or 20 decisions, files over 400 lines; `--all` those of the planner and of hearing too. */
export function main(args: string[]): number {
  const all = args.includes('--all');
  const wanted = (file: string) => all || !elsewhere(file);
  const long = allFunctions()
    .filter((f) => wanted(f.file) && (f.lines > 60 || f.decisions > 20))
    .sort((a, b) => b.lines - a.lines || b.decisions - a.decisions);
  for (const f of long) console.log(`${f.lines} lines, ${f.decisions} decisions  ${f.name}  ${f.file}:${f.line}`);
  const files = codeFiles()
    .map((file) => ({ file, lines: readFileSync(file, 'utf8').split('\n').length - 1 }))
    .filter(({ file, lines }) => wanted(file) && lines > 400);
  for (const { file, lines } of files) console.log(`${lines} lines  ${file}`);
  console.log(
    `over 80 lines: ${long.filter((f) => f.lines > 80).length}, over 60: ${long.filter((f) => f.lines > 60).length}, over 20 decisions: ${long.filter((f) => f.decisions > 20).length}, files over 400 lines: ${files.length}`,
  );
  return 0;
}
