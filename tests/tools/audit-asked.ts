import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { evaluateSet } from '../../rules/engine/run-rules.ts';
import { usesPower } from '../../rules/knowledge/touches.ts';
import type { Audience, Check, Knowledge } from '../../rules/types.ts';

const ROOT = join(import.meta.dirname, '../..');
export const AUDIENCES: Audience[] = ['homeowner', 'agent', 'technician'];
const readJson = (path: string): unknown =>
  existsSync(join(ROOT, path)) ? JSON.parse(readFileSync(join(ROOT, path), 'utf8')) : undefined;

/** Which audiences the permit rules let a check be asked of, once all that can be met is met. */
export async function mayBeAsked(k: Knowledge, c: Check, audience: Audience): Promise<boolean> {
  if (!c.settles.some((f) => k.facts.get(f)?.whoCanTell.includes(audience))) return false;
  const over = (what: string) => k.rules.permits.filter((r) => r.over === what);
  const needs = await evaluateSet(over('case'), { audience });
  if (needs.some((n) => n.truth === 'fails' && c.needs.includes(String(n.rule.then.meets)))) return false;
  const run = await evaluateSet(over('check'), {
    audience,
    level: c.level,
    kind: c.kind,
    needs_met: 'yes',
    silenced: 'no',
    qualified: audience === 'technician' ? 'yes' : 'no',
    opt_in: audience === 'homeowner' ? 'yes' : 'no',
    uses_power: usesPower(c.touches) ? 'yes' : 'no',
    stop_stood: 'no',
    ever_stopped: 'no',
  });
  const holds = run.filter((r) => r.truth === 'holds').map((r) => r.rule.then.permit);
  return holds.includes('yes') && !holds.includes('no');
}

/** Checks without words for an audience that may be asked. */
export async function unwordedChecks(k: Knowledge): Promise<string[]> {
  const path = 'server/conversation/words/en/checks.json';
  const words = (readJson(path) as { checks: Record<string, { ask?: string | Partial<Record<Audience, string>> }> } | undefined)
    ?.checks;
  if (!words) return [`${path}: is missing`];
  const out: string[] = [];
  // One text for all, or one for each.
  for (const c of k.checks.values())
    for (const a of AUDIENCES)
      if (
        !(typeof words[c.id]?.ask === 'string' || (words[c.id]?.ask as Partial<Record<Audience, string>> | undefined)?.[a]) &&
        (await mayBeAsked(k, c, a))
      )
        out.push(`check "${c.id}": no words for a ${a}`);
  return out;
}
