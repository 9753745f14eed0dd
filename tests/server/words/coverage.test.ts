import { describe, expect, test } from 'vitest';
import { knowledge } from '../../../rules/index.ts';
import type { Audience } from '../../../rules/types.ts';
import type { Spoken } from '../../../server/conversation/words/shapes.ts';
import { sentences } from './grade.ts';
import { AUDIENCES, allTexts, askedOf, onDisk, ownWords, type Text } from './texts.ts';

const k = knowledge();
const words = onDisk();
const lacking = (who: readonly Audience[], what: string, s: Spoken | undefined) =>
  who.filter((to) => !ownWords(s, to)).map((to) => `${what}: none for a ${to}`);
const quoted = (texts: readonly Text[]) => texts.map((t) => `${t.where}, ${t.to}: ${t.text}`);

const TRADE =
  /\breceptacle|\bhigh limit|\bcut-off|\bthermistor|\bcycling|\bimpedance|\bwye\b|\bneutral\b|\bwinding|\bterminal block/i;

/** Where a fact has no words for two points, their names are said: they do for a technician, for a homeowner where neither is a word of the trade. */
function saysNames(to: Audience, machine: string, points: readonly [string, string]): boolean {
  const nodes = [...k.machines.get(machine)!.nodes, ...k.supply.nodes];
  const names = points.map((id) => nodes.find((node) => node.id === id)?.name ?? id);
  return to === 'technician' || (to === 'homeowner' && !names.some((name) => TRADE.test(name)));
}

describe('everything that may be shown has words of its own for whoever may be shown it', () => {
  test('checks', () => {
    const gaps = [...k.checks.values()].flatMap((c) => {
      const w = words.checks[c.id];
      if (!w) return [`${c.id}: no words`];
      const who = askedOf(c);
      return [
        ...(['name', 'ask', 'example', 'why'] as const).flatMap((f) => lacking(who, `${c.id} ${f}`, w[f])),
        ...(w.how === undefined ? [] : lacking(who, `${c.id} how`, w.how)),
        ...Object.keys(c.choices ?? {}).flatMap((id) => lacking(who, `${c.id} choice ${id}`, w.choices?.[id])),
        ...(who.includes('agent') && !w.script ? [`${c.id}: no line to read to the caller`] : []),
        ...(c.measure && w.how === undefined && c.level >= 3 ? [`${c.id}: does not say how to read it`] : []),
      ];
    });
    expect(gaps).toEqual([]);
  });
  test('facts and their choices', () => {
    const gaps = [...k.facts.values()].flatMap((f) => {
      const w = words.facts[f.id];
      if (!w) return [`${f.id}: no words`];
      return [
        ...lacking(f.whoCanTell, `${f.id} label`, w.label),
        ...(f.choices ?? []).flatMap((id) => lacking(f.whoCanTell, `${f.id} choice ${id}`, w.choices?.[id])),
      ];
    });
    expect(gaps).toEqual([]);
  });
  test('readings: where the leads go on each machine, and what each class means', () => {
    const gaps = [...k.checks.values()].flatMap((c) =>
      (c.measure?.reads ?? []).flatMap((r) => {
        const w = words.facts[r.fact]!;
        const who = askedOf(c);
        const machines = '*' in r.points ? [...k.machines.keys()] : Object.keys(r.points);
        return [
          ...machines.flatMap((m) => {
            const unnamed = who.filter((to) => !saysNames(to, m, r.points[m] ?? r.points['*']!));
            return lacking(unnamed, `${r.fact} points on ${m}`, w.points?.[m] ?? w.points?.['*']);
          }),
          ...Object.keys(r.classes).flatMap((cls) => lacking(who, `${r.fact} means ${cls}`, w.means?.[cls])),
        ];
      }),
    );
    expect(gaps).toEqual([]);
  });
  test('the names of two points do for a technician; for a homeowner only where they are plain', () => {
    expect(saysNames('technician', 'dial-single-coil', ['HL1', 'HL2'])).toBe(true);
    expect(saysNames('homeowner', 'dial-single-coil', ['HL1', 'HL2'])).toBe(false);
    expect(saysNames('homeowner', 'dial-single-coil', ['T1', 'T2'])).toBe(true);
    expect(saysNames('agent', 'dial-single-coil', ['T1', 'T2'])).toBe(false);
  });
  test('faults, and a homeowner and a technician each hear their own name for one', () => {
    const gaps = [...k.faults.values()].flatMap((f) => {
      const w = words.faults[f.id];
      if (!w) return [`${f.id}: no words`];
      return [...lacking(AUDIENCES, `${f.id} label`, w.label), ...lacking(['homeowner', 'technician'], `${f.id} says`, w.says)];
    });
    expect(gaps).toEqual([]);
  });
});

describe('nothing has words that is not there', () => {
  test('checks, facts, faults, stops', () => {
    const unknown = (['checks', 'facts', 'faults', 'stops'] as const).flatMap((key) =>
      Object.keys(words[key])
        .filter((id) => !k[key].has(id))
        .map((id) => `${key} ${id}`),
    );
    expect(unknown).toEqual([]);
  });
  test('choices, classes, machines', () => {
    const classes = new Map<string, Set<string>>();
    for (const c of k.checks.values())
      for (const r of c.measure?.reads ?? [])
        classes.set(r.fact, new Set([...(classes.get(r.fact) ?? []), ...Object.keys(r.classes)]));
    const unknown = [
      ...Object.entries(words.checks).flatMap(([id, w]) =>
        Object.keys(w.choices ?? {}).flatMap((x) => (k.checks.get(id)?.choices?.[x] ? [] : [`${id} choice ${x}`])),
      ),
      ...Object.entries(words.facts).flatMap(([id, w]) => [
        ...Object.keys(w.choices ?? {}).flatMap((x) => (k.facts.get(id)?.choices?.includes(x) ? [] : [`${id} choice ${x}`])),
        ...Object.keys(w.means ?? {}).flatMap((x) => (classes.get(id)?.has(x) ? [] : [`${id} means ${x}`])),
        ...Object.keys(w.points ?? {}).flatMap((x) => (x === '*' || k.machines.has(x) ? [] : [`${id} points ${x}`])),
      ]),
    ];
    expect(unknown).toEqual([]);
  });
});

describe('labels fit where they stand', () => {
  test('the name of a check has five words at most and no full stop', () => {
    const bad = allTexts().filter(
      (t) => /^check \S+ name$/.test(t.where) && (t.text.split(/\s+/).length > 5 || /[.?!]$/.test(t.text)),
    );
    expect(quoted(bad)).toEqual([]);
  });
  test('labels, choices and points are no sentences', () => {
    const bad = allTexts().filter((t) => / (label|points|choice)( |$)/.test(t.where) && /[.?!]$/.test(t.text));
    expect(quoted(bad)).toEqual([]);
  });
  test('asks, examples and explanations end as sentences do', () => {
    const bad = allTexts().filter((t) => / (ask|how|example|why|script|says|means)( |$)/.test(t.where) && !/[.?]$/.test(t.text));
    expect(quoted(bad)).toEqual([]);
  });
  test('no two answers to one question read alike, so that none is picked for another', () => {
    const seen = new Map<string, string>();
    const twice: string[] = [];
    for (const t of allTexts().filter((x) => / choice /.test(x.where))) {
      const group = `${t.where.split(' choice ')[0]} ${t.to} ${t.text}`;
      if (seen.has(group)) twice.push(`${seen.get(group)} = ${t.where}: ${t.text}`);
      seen.set(group, t.where);
    }
    expect(twice).toEqual([]);
  });
  test('a homeowner can tell every fault from every other by its name', () => {
    const names = Object.entries(words.faults).map(([id, w]) => [ownWords(w.label, 'homeowner'), id] as const);
    const twice = names.filter(([name], i) => names.findIndex(([n]) => n === name) !== i);
    expect(twice).toEqual([]);
  });
});

/** Words that ask for the thing itself; "bypassed" tells what somebody did. */
const BRIDGE =
  /\bjump(er|ers|ed|ing)?\b|\bbypass(es|ing)?\b|\bbridg(e|es|ing)\b|\bshort (it|the|out|across)\b|\bhold (it|the contact|the switch) (shut|closed)\b/i;
const FOR_SKILLED =
  /\bunplug|\b(pull|take|plug) [^.?]*\bplug out\b|\bpull (out )?the plug\b|\bplug out\b|\bmeter\b|\bohms?\b|\bvolts? (reading|across|between)\b|\b(cover|panel|back|top|console)s? off\b|\b(open|remove|take off) the (back|rear|panel|cover|console|top|cabinet)\b|\bscrews?\b|\bpull the dryer\b|\bmove the dryer\b/i;

describe('no text leads anybody into danger', () => {
  test('the patterns know what they are to find', () => {
    expect('Bypass the fuse.').toMatch(BRIDGE);
    expect('Put a jumper on the limit.').toMatch(BRIDGE);
    expect('A safety part was bypassed').not.toMatch(BRIDGE);
    expect('Unplug the dryer first.').toMatch(FOR_SKILLED);
    expect('Take the rear panel off.').toMatch(FOR_SKILLED);
    expect('With your meter, read the outlet.').toMatch(FOR_SKILLED);
    expect('Is the breaker panel cool?').not.toMatch(FOR_SKILLED);
  });
  test('no safety part is ever bridged', () => {
    const bad = allTexts().filter((t) => sentences(t.text).some((one) => !one.startsWith('Never ') && BRIDGE.test(one)));
    expect(quoted(bad)).toEqual([]);
  });
  test('a homeowner or caller is asked for no cover, no meter, no plug and no moving at level 0 and 1', () => {
    const bad = allTexts().filter((t) => {
      const [, id, field] = t.where.split(' ');
      const check = t.where.startsWith('check') ? k.checks.get(id!) : undefined;
      // The opt-in itself names its terms, and those are a plug out and a meter of one's own.
      const open = check && check.level <= 1 && !check.needs.includes('homeowner-only');
      return open && t.to !== 'technician' && /^(ask|how|example|script)$/.test(field!) && FOR_SKILLED.test(t.text);
    });
    expect(quoted(bad)).toEqual([]);
  });
  test('a question that operates nothing names nothing to operate', () => {
    const OPERATES = /\b(turn|push|press|switch|flip|reset|run|start) (it|the|your)\b|\b(turn|switch) (on|off)\b/i;
    const bad = allTexts().filter((t) => {
      const [, id, field] = t.where.split(' ');
      const check = t.where.startsWith('check') ? k.checks.get(id!) : undefined;
      return check?.level === 0 && check.touches.length === 0 && /^(ask|how|script)$/.test(field!) && OPERATES.test(t.text);
    });
    expect(quoted(bad)).toEqual([]);
  });
  test('the line read to a caller names every entry of its list, for "none" answers them all', () => {
    const LITTLE = new Set([
      'some',
      'thing',
      'that',
      'from',
      'with',
      'this',
      'these',
      'none',
      'after',
      'when',
      'should',
      'then',
      'will',
      'caller',
    ]);
    const stems = (text: string) =>
      (text.toLowerCase().match(/[a-z]{4,}/g) ?? []).filter((w) => !LITTLE.has(w)).map((w) => w.slice(0, 4));
    const unread = [...k.checks.values()].flatMap((c) => {
      const w = words.checks[c.id]!;
      const read = new Set(stems(w.script ?? ''));
      if (!w.script) return [];
      return Object.keys(c.choices ?? {})
        .filter((id) => id !== 'none')
        .flatMap((id) => {
          // What stands under one line is read as that line; which of them it is, is asked on a yes.
          const under = Object.entries(c.groups ?? {}).find(([, ids]) => ids.includes(id))?.[0];
          const line = under ? w.groups?.[under] : w.choices?.[id];
          const missing = stems(ownWords(line, 'agent') ?? '').filter((x) => !read.has(x));
          return missing.length ? [`${c.id} ${id}: ${missing.join(', ')}`] : [];
        });
    });
    expect(unread).toEqual([]);
  });
  test('nobody is shouted at, and a line read aloud says please once', () => {
    expect(quoted(allTexts().filter((t) => t.text.includes('!')))).toEqual([]);
    expect(quoted(allTexts().filter((t) => (t.text.match(/\bplease\b/gi) ?? []).length > 1))).toEqual([]);
  });
  test('a homeowner is spared the words of the trade', () => {
    expect(quoted(allTexts().filter((t) => t.to === 'homeowner' && TRADE.test(t.text)))).toEqual([]);
  });
});
