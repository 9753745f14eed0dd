import type { Loaded } from './cross-check.ts';
import type { Stop, StopAct, StopQuestion } from './types.ts';

const FILE = 'stop-questions.json';

/**
 * What is asked while a stop stands: every act, sign and class named must be there, no question without an answer that always
 * fits, and no answer after that one.
 */
export function stopQuestionProblems(
  l: Loaded,
  acts: ReadonlySet<string>,
  must: (where: string, what: string, id: string, among: ReadonlySet<string>) => boolean,
): string[] {
  const out: string[] = [];
  const stops = (l.lists['stops.json'] ?? []) as Stop[];
  const classes = new Set(stops.map((s) => s.class));
  const signs = l.named['stops.json'] ?? new Set(stops.map((s) => s.id));
  for (const a of (l.beside.acts as StopAct[] | undefined) ?? [])
    for (const key of ['undoes', 'oneOf'] as const)
      for (const other of a[key] ?? []) must(`${FILE}, act "${a.id}", ${key}`, 'act', other, acts);
  for (const q of (l.lists[FILE] ?? []) as StopQuestion[]) {
    const ids = new Set<string>();
    for (const [i, a] of q.answers.entries()) {
      const where = `${FILE}, question "${q.id}", answer "${a.id}"`;
      if (ids.has(a.id)) out.push(`${where}: stands there twice; ids are used once`);
      ids.add(a.id);
      for (const key of ['stops', 'alone'] as const)
        for (const sign of a.when?.[key] ?? []) must(`${where}, when.${key}`, 'stop', sign, signs);
      if (stops.length) for (const c of a.when?.classes ?? []) must(`${where}, when.classes`, 'class', c, classes);
      for (const key of ['lines', 'done'] as const)
        for (const act of a.when?.[key] ?? []) must(`${where}, when.${key}`, 'act', act, acts);
      for (const act of a.then ?? []) must(`${where}, then`, 'act', act, acts);
      const always = !a.when && !a.touches;
      if (always !== (i === q.answers.length - 1))
        out.push(
          always
            ? `${where}: fits always, so nothing after it is ever said; the answer that fits always comes last`
            : `${where}: is the last and does not fit always; the last one has neither "when" nor "touches"`,
        );
    }
  }
  return out;
}
