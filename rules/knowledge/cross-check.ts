import { orDidYouMean } from './closest.ts';
import { conditionProblems, unheard } from './cross-check-rules.ts';
import { stopQuestionProblems } from './cross-check-stops.ts';
import { curveIds } from './curves.ts';
import { mustBeOn } from './must-be-on.ts';
import { NEEDED_LIMITS } from './needed-limits.ts';
import type { RuleWords } from './rule.ts';
import type {
  Check,
  Circuit,
  Condition,
  Cover,
  Fact,
  Family,
  Fault,
  Finding,
  Limit,
  MachineState,
  Repair,
  Rule,
  Stop,
  StopAct,
  SupplyModel,
} from './types.ts';
import { RULE_SETS } from './types.ts';

/** What has been read so far: parsed items by file, and the names of all items, parsed or not. */
export interface Loaded {
  lists: Record<string, unknown[]>;
  singles: Record<string, unknown>;
  named: Record<string, Set<string>>;
  beside: Record<string, unknown>;
}

// The names of a file that is not there: its absence is one problem already, so every name in it passes.
class AnyName extends Set<string> {
  override has(): boolean {
    return true;
  }
}

const JUMPER = /\bjumper|bridge it|bypass the/i;

/**
 * What no single item can tell: names that do not exist, choices a fact does not have, classes without a limit, effects that reach
 * nothing, rules that compare numbers with words. One sentence a problem, in the order of the files.
 */
export function crossCheck(l: Loaded): string[] {
  const out: string[] = [];
  const list = <T>(path: string) => (l.lists[path] ?? []) as T[];
  const names = (path: string) => l.named[path] ?? new AnyName();
  const facts = new Map(list<Fact>('facts.json').map((f) => [f.id, f]));
  const checks = new Map(list<Check>('checks.json').map((c) => [c.id, c]));
  const families = new Map(list<Family>('families.json').map((f) => [f.id, f]));
  const read = Object.entries(l.singles).flatMap(([p, m]) => (p.startsWith('machines/') ? [m as Circuit] : []));
  // A machine that could not be read would look like one that is missing, in every item that names it: those checks wait for it.
  const machines = read.length === Object.keys(l.named).filter((p) => p.startsWith('machines/')).length ? read : [];
  const supply = l.singles['supply.json'] as SupplyModel | undefined;
  const machineIds = new Set(machines.map((m) => m.id));
  const attributes = new Set(machines.flatMap((m) => m.attributes));
  const states = names('states.json');
  const covers = names('covers.json');
  const stateOf = new Map(list<MachineState>('states.json').map((x) => [x.id, x]));
  const coverOf = new Map(list<Cover>('covers.json').map((c) => [c.id, c]));
  const limits = l.named['limits.json']
    ? new Set([...names('limits.json'), ...(l.named['physics-limits.json'] ?? [])])
    : new AnyName();
  const cautions = new Set(((l.beside.cautions as { id: string }[] | undefined) ?? []).map((c) => c.id));

  const must = (where: string, what: string, id: string, among: ReadonlySet<string>): boolean => {
    if (among.has(id)) return true;
    out.push(`${where}: there is no ${what} "${id}"${orDidYouMean(id, among)}`);
    return false;
  };
  const mustChoose = (where: string, factId: string, choice: string): void => {
    const fact = facts.get(factId);
    if (!must(where, 'fact', factId, names('facts.json')) || !fact) return;
    if (fact.kind === 'quantity') out.push(`${where}: "${factId}" is a number and has no answer "${choice}"`);
    else if (!fact.choices?.includes(choice))
      out.push(`${where}: "${choice}" is not one of ${fact.choices?.join(', ')} (fact "${factId}")`);
  };
  const fitsMachine = (fits: readonly string[], m: Circuit) => fits.every((a) => m.attributes.includes(a));
  const mustFit = (where: string, fits: readonly string[]): Circuit[] => {
    if (!machines.length) return [];
    for (const a of fits) must(where, 'machine attribute', a, attributes);
    const on = machines.filter((m) => fitsMachine(fits, m));
    if (!on.length && fits.every((a) => attributes.has(a))) out.push(`${where}: no machine has all of ${fits.join(', ')}`);
    return on;
  };
  const mustBeFor = (where: string, key: string, on: readonly Circuit[]): Circuit[] => {
    if (key === '*') return [...on];
    if (!machines.length) return [];
    if (!must(where, 'machine', key, machineIds)) return [];
    const m = on.find((x) => x.id === key);
    if (!m) out.push(`${where}: "${key}" is not a machine this fits`);
    return m ? [m] : [];
  };
  const branchesOf = (m: Circuit) =>
    new Set([
      ...m.branches.map((b) => b.id),
      ...(supply?.branches ?? []).map((b) => b.id),
      ...(supply?.hookups ?? []).flatMap((h) => h.add.map((b) => b.id)),
      ...Object.keys(m.aliases?.branches ?? {}),
    ]);
  const nodesOf = (m: Circuit) =>
    new Set([...m.nodes.map((n) => n.id), ...(supply?.nodes ?? []).map((n) => n.id), ...Object.keys(m.aliases?.nodes ?? {})]);

  for (const f of facts.values()) {
    const where = `facts.json, fact "${f.id}"`;
    if (f.kind === 'choice') {
      if (f.event === 'renewed') for (const r of f.choices ?? []) must(`${where}, choices`, 'repair', r, names('repairs.json'));
      if (!f.choices) out.push(`${where}, choices: is missing; a choice needs at least two answers`);
      if (f.unit || f.possible) out.push(`${where}, unit: a choice has no unit and no possible range`);
      for (const [field, all] of Object.entries({
        silent: Object.keys(f.silent ?? {}),
        silentIn: Object.values(f.silentIn ?? {}).flatMap((by) => Object.keys(by)),
        noEvidence: f.noEvidence ?? [],
        danger: f.danger ?? [],
        covers: Object.keys(f.covers ?? {}),
        unsureIs: f.unsureIs ? [f.unsureIs] : [],
      }))
        for (const c of all)
          if (f.choices && !f.choices.includes(c)) out.push(`${where}, ${field}: "${c}" is not one of ${f.choices.join(', ')}`);
      for (const c of f.noEvidence ?? [])
        if (f.silent?.[c] || Object.values(f.silentIn ?? {}).some((by) => by[c]))
          out.push(`${where}, silent: "${c}" says nothing, so no likelihood belongs to it`);
      for (const id of Object.values(f.covers ?? {}).flat()) must(`${where}, covers`, 'cover', id, covers);
      for (const family of Object.keys(f.silentIn ?? {})) must(`${where}, silentIn`, 'family', family, names('families.json'));
    } else {
      if (f.choices) out.push(`${where}, choices: a quantity has a unit, not answers`);
      if (!f.unit) out.push(`${where}, unit: is missing; a quantity needs one`);
      if (!f.possible) out.push(`${where}, possible: is missing; a quantity needs the widest range a meter can show`);
      else if (f.possible.lo >= f.possible.hi) out.push(`${where}, possible: ${f.possible.lo} is not below ${f.possible.hi}`);
    }
  }

  for (const id of NEEDED_LIMITS) if (!limits.has(id)) out.push(`limits.json, limit "${id}": is missing; the engine reads it`);
  for (const x of [...list<Limit>('limits.json'), ...list<Limit>('physics-limits.json')])
    if (x.lo > x.hi) out.push(`limits.json, limit "${x.id}", lo: ${x.lo} is above hi ${x.hi}`);
  for (const id of l.named['physics-limits.json'] ?? [])
    if (names('limits.json').has(id)) out.push(`physics-limits.json, limit "${id}": stands in limits.json too`);
  const words = l.beside.likely as Record<string, number> | undefined;
  if (words) {
    const order = ['always', 'usual', 'maybe', 'rare', 'never'];
    order.slice(1).forEach((w, i) => {
      if (words[w]! >= words[order[i]!]!)
        out.push(`limits.json, likely: "${w}" (${words[w]}) should be less than "${order[i]}" (${words[order[i]!]})`);
    });
  }

  const repairs = names('repairs.json');
  const used = new Set<string>();
  for (const f of list<Fault>('faults.json')) {
    const where = `faults.json, fault "${f.id}"`;
    const on = mustFit(`${where}, fits`, f.fits);
    for (const [fam, by] of Object.entries(f.weight)) {
      must(`${where}, weight`, 'family', fam, names('families.json'));
      for (const m of Object.keys(by)) mustBeFor(`${where}, weight.${fam}`, m, on);
    }
    const signsOf: [where: string, signs: Fault['signs']][] = [['signs', f.signs]];
    for (const [fam, signs] of Object.entries(f.signsIn ?? {})) {
      must(`${where}, signsIn`, 'family', fam, names('families.json'));
      signsOf.push([`signsIn.${fam}`, signs]);
    }
    for (const [field, signs] of signsOf)
      for (const [fact, answers] of Object.entries(signs))
        for (const a of Object.keys(answers)) {
          mustChoose(`${where}, ${field}.${fact}`, fact, a);
          if (facts.get(fact)?.noEvidence?.includes(a))
            out.push(`${where}, ${field}.${fact}: "${a}" says nothing, so it cannot be a sign`);
        }
    effectProblems(f, on, where);
    if (must(`${where}, end.repair`, 'repair', f.end.repair, repairs)) used.add(f.end.repair);
    for (const c of f.causes) {
      must(`${where}, causes`, 'fault', c.fault, names('faults.json'));
      if (c.fault === f.id) out.push(`${where}, causes: a fault is not its own cause`);
    }
    for (const m of on) {
      const sum = f.causes.reduce(
        (s, c) => s + (fitsMachine(list<Fault>('faults.json').find((x) => x.id === c.fault)?.fits ?? [], m) ? c.share : 0),
        0,
      );
      if (sum > 1.0001)
        out.push(`${where}, causes: the shares on "${m.id}" add to ${Math.round(sum * 1000) / 1000}; they should not pass 1`);
    }
  }
  function effectProblems(f: Fault, on: readonly Circuit[], where: string): void {
    const all = [...f.effects, ...(f.members ?? []).flat()];
    if (f.members && !f.effects.length) out.push(`${where}, members: there are no effects that they could differ from`);
    if (!f.effects.length || !on.length || !supply) return;
    const branches = new Set(on.flatMap((m) => [...branchesOf(m)]));
    const nodes = new Set(on.flatMap((m) => [...nodesOf(m)]));
    let named = true;
    for (const e of all) {
      if ('branch' in e) named = must(`${where}, effects`, 'branch', e.branch, branches) && named;
      else if ('add' in e)
        for (const n of e.add.slice(0, 2)) named = must(`${where}, effects`, 'node', String(n), nodes) && named;
      else if ('scale' in e) named = must(`${where}, effects`, 'branch', e.scale[0], branches) && named;
      else if ('touch' in e) {
        named = must(`${where}, effects`, 'branch', e.touch[0], branches) && named;
        named = must(`${where}, effects`, 'node', e.touch[2], nodes) && named;
      } else if ('join' in e) for (const n of e.join) named = must(`${where}, effects`, 'node', n, nodes) && named;
      else if ('supply' in e)
        named = must(`${where}, effects`, 'supply system', e.supply, new Set(supply.systems.map((s) => s.id))) && named;
      else {
        named = must(`${where}, effects`, 'contact', e.contact, branches) && named;
        for (const s of e.staysIn) must(`${where}, effects`, 'state', s, states);
      }
    }
    if (!named) return;
    const reaches = (m: Circuit) => {
      const b = branchesOf(m);
      const n = nodesOf(m);
      return f.effects.some((e) =>
        'branch' in e
          ? b.has(e.branch)
          : 'contact' in e
            ? b.has(e.contact)
            : 'add' in e
              ? n.has(e.add[0]) && n.has(e.add[1])
              : 'scale' in e
                ? b.has(e.scale[0])
                : 'touch' in e
                  ? b.has(e.touch[0]) && n.has(e.touch[2])
                  : 'join' in e
                    ? e.join.every((x) => n.has(x))
                    : true,
      );
    };
    for (const m of on)
      if (!reaches(m)) out.push(`${where}, effects: none of them touches anything on "${m.id}", which the fault fits`);
  }

  for (const r of list<Repair>('repairs.json')) {
    const where = `repairs.json, repair "${r.id}"`;
    if (!used.has(r.id)) out.push(`${where}: no fault ends with it`);
    for (const p of r.proofs)
      if (must(`${where}, proofs`, 'check', p, names('checks.json')) && checks.get(p) && checks.get(p)!.kind !== 'proof')
        out.push(`${where}, proofs: "${p}" is a check of kind "${checks.get(p)!.kind}", not "proof"`);
  }

  const outcome = (where: string, check: string, id: string): void => {
    if (!must(where, 'check', check, names('checks.json'))) return;
    const c = checks.get(check);
    if (c) must(where, `outcome of "${check}"`, id, new Set(c.outcomes.map((o) => o.id)));
  };
  const measuredBy = new Map<string, string>();
  const unitOf = { volts: 'V', ohms: 'Ω', amps: 'A' } as const;
  for (const c of checks.values()) {
    const where = `checks.json, check "${c.id}"`;
    const on = mustFit(`${where}, fits`, c.fits);
    for (const f of c.settles) must(`${where}, settles`, 'fact', f, names('facts.json'));
    if (c.state !== 'any') must(`${where}, state`, 'state', c.state, states);
    for (const [m, ids] of Object.entries(c.covers)) {
      mustBeFor(`${where}, covers`, m, on);
      for (const id of ids) must(`${where}, covers`, 'cover', id, covers);
    }
    for (const [m, ids] of Object.entries(c.covers))
      for (const id of ids) {
        const cover = coverOf.get(id);
        // Read with the plug out after a run, it has them on for the run alone.
        const plugged = stateOf.get(c.state)?.plugged ?? true;
        if (cover && plugged && mustBeOn(cover, c))
          out.push(`${where}, covers.${m}: "${id}" must be on while this is done, for it uses power`);
      }
    for (const n of [...c.needs, ...(c.clears ? [c.clears] : [])]) must(`${where}, needs`, 'need', n, names('needs.json'));
    for (const n of c.cautions) must(`${where}, cautions`, 'caution', n, cautions);
    if (c.level === 4 && !c.needs.includes('qualified')) out.push(`${where}, needs: a live reading needs "qualified"`);
    const classes = new Map<string, Set<string>>();
    for (const r of c.measure?.reads ?? []) {
      const at = `${where}, measure of "${r.fact}"`;
      if (!c.settles.includes(r.fact)) out.push(`${at}: the check does not settle it; add it to settles`);
      const fact = facts.get(r.fact);
      if (fact?.kind === 'choice') out.push(`${at}: is a choice; what a meter shows is a quantity`);
      else if (fact && fact.unit !== unitOf[c.measure!.what])
        out.push(`${at}: ${c.measure!.what} are in ${unitOf[c.measure!.what]}, the fact is in ${fact.unit}`);
      const before = measuredBy.get(r.fact);
      if (before !== undefined) out.push(`${at}: check "${before}" measures it too; points and state must be told from the fact`);
      measuredBy.set(r.fact, c.id);
      for (const [key, points] of Object.entries(r.points))
        for (const m of mustBeFor(`${at}, points`, key, on))
          for (const p of points) must(`${at}, points on "${m.id}"`, 'node', p, nodesOf(m));
      for (const [key, b] of Object.entries(r.branch ?? {}))
        for (const m of mustBeFor(`${at}, branch`, key, on)) must(`${at}, branch on "${m.id}"`, 'branch', b, branchesOf(m));
      if (c.measure!.what === 'amps' && !r.branch) out.push(`${at}, branch: is missing; a clamp goes round one branch`);
      for (const [cls, limit] of Object.entries(r.classes))
        if (limit !== 'healthy') must(`${at}, class "${cls}"`, 'limit', limit, limits);
      classes.set(r.fact, new Set(Object.keys(r.classes)));
    }
    for (const [key, lift] of Object.entries(c.measure?.lift ?? {}))
      for (const m of mustBeFor(`${where}, lift`, key, on))
        must(`${where}, lift on "${m.id}"`, 'lead that lifts', lift, new Set(m.lifts.map((x) => x.id)));
    if (c.measure?.scaledBy) must(`${where}, scaledBy`, 'fact', c.measure.scaledBy, names('facts.json'));
    const seen = new Set<string>();
    for (const o of c.outcomes) {
      const at = `${where}, outcome "${o.id}"`;
      if (seen.has(o.id)) out.push(`${at}: stands there twice`);
      seen.add(o.id);
      for (const [fact, any] of Object.entries(o.when)) {
        if (!c.settles.includes(fact)) {
          out.push(`${at}: the check does not settle "${fact}"${orDidYouMean(fact, c.settles)}`);
          continue;
        }
        const cls = classes.get(fact);
        for (const x of any)
          if (!cls) mustChoose(at, fact, x);
          else if (x !== 'odd' && !cls.has(x))
            out.push(`${at}: "${x}" is no class of "${fact}"; the classes are ${[...cls].join(', ')} and odd`);
      }
    }
    for (const k of c.confirms) {
      must(`${where}, confirms`, 'fault', k.fault, names('faults.json'));
      outcome(`${where}, confirms "${k.fault}"`, c.id, k.outcome);
      for (const a of k.after ?? []) outcome(`${where}, confirms "${k.fault}", after`, a.check, a.outcome);
    }
    for (const [choice, gives] of Object.entries(c.choices ?? {}))
      for (const [fact, answer] of Object.entries(gives)) {
        mustChoose(`${where}, choice "${choice}"`, fact, answer);
        if (!c.settles.includes(fact)) out.push(`${where}, choice "${choice}": the check does not settle "${fact}"`);
      }
    const grouped = new Set<string>();
    for (const [group, ids] of Object.entries(c.groups ?? {}))
      for (const id of ids) {
        if (!c.choices?.[id] || id === 'none')
          out.push(`${where}, group "${group}": there is no choice "${id}" to stand under it`);
        else if (grouped.has(id)) out.push(`${where}, group "${group}": "${id}" stands under another group already`);
        grouped.add(id);
      }
    if (c.choices && !c.oneOf && !c.choices.none)
      out.push(`${where}, choices: "none" is missing; it answers every fact of the list`);
    if (c.oneOf && !c.choices) out.push(`${where}, oneOf: there are no choices to pick one of`);
    if (c.oneOf)
      for (const [choice, gives] of Object.entries(c.choices ?? {}))
        for (const f of c.settles) if (!(f in gives)) out.push(`${where}, choice "${choice}": says nothing about "${f}"`);
    for (const f of c.settles)
      if (c.choices?.none && !(f in c.choices.none)) out.push(`${where}, choice "none": says nothing about "${f}"`);
  }

  const stopActs = new Set(((l.beside.acts as StopAct[] | undefined) ?? []).map((a) => a.id));
  out.push(...stopQuestionProblems(l, stopActs, must));
  const precedence = new Map<number, string>();
  const dials = (l.beside.numbers as Record<string, Record<string, string>> | undefined) ?? {};
  for (const s of list<Stop>('stops.json')) {
    const where = `stops.json, stop "${s.id}"`;
    const other = precedence.get(s.precedence);
    if (other !== undefined) out.push(`${where}, precedence: ${s.precedence} is taken by "${other}"`);
    precedence.set(s.precedence, s.id);
    if (!s.sayNow.default) out.push(`${where}, sayNow: "default" is missing; it serves every region without its own words`);
    for (const sentences of Object.values(s.sayNow))
      for (const { text, does, until } of sentences) {
        for (const act of [...(does ?? []), ...(until ?? [])]) must(`${where}, sayNow`, 'act', act, stopActs);
        for (const [, n] of text.matchAll(/\{(\w+)\}/g)) must(`${where}, sayNow`, 'number', n!, new Set(Object.keys(dials)));
      }
  }
  for (const [n, by] of Object.entries(dials)) if (!by.default) out.push(`stops.json, numbers.${n}: "default" is missing`);

  for (const x of list<Finding>('findings.json')) {
    const where = `findings.json, finding "${x.id}"`;
    if (facts.has(x.id)) out.push(`${where}: is the id of a fact too; what is told and what is found need names of their own`);
    if (!x.clearedBy) continue;
    const proofs = [...checks.values()].filter((c) => c.kind === 'proof' && c.settles.includes(x.clearedBy!));
    if (must(`${where}, clearedBy`, 'fact', x.clearedBy, names('facts.json')) && checks.size && !proofs.length)
      out.push(`${where}, clearedBy: no proof settles "${x.clearedBy}"`);
  }
  if (supply)
    for (const m of machines)
      if (!m.nodes.some((n) => n.id === supply.cabinet))
        out.push(`supply.json, cabinet: "${m.id}" has no node "${supply.cabinet}"`);

  for (const f of families.values()) {
    const where = `families.json, family "${f.id}"`;
    for (const g of f.gates)
      if (
        must(`${where}, gates`, 'check', g, names('checks.json')) &&
        checks.get(g) &&
        !['gate', 'worth'].includes(checks.get(g)!.kind)
      )
        out.push(`${where}, gates: "${g}" is a check of kind "${checks.get(g)!.kind}", not "gate" or "worth"`);
    for (const x of f.crossovers) {
      mustChoose(`${where}, crossovers`, x.fact, x.is);
      must(`${where}, crossovers`, 'family', x.to, names('families.json'));
    }
  }

  for (const m of machines) {
    const where = `machines/${m.id}.json`;
    const nodes = nodesOf(m);
    const branches = branchesOf(m);
    for (const v of m.variants ?? []) {
      const at = `${where}, variant "${v.id}"`;
      const branchIds = new Set(m.branches.map((b) => b.id));
      for (const b of [...Object.keys(v.rewire ?? {}), ...(v.drop ?? []), ...(v.joined ?? [])]) must(at, 'branch', b, branchIds);
      const points = new Set([...nodes, ...(v.nodes ?? []).map((n) => n.id)]);
      for (const pair of [...Object.values(v.rewire ?? {}), ...(v.add ?? []).map((b) => [b.a, b.b] as const)])
        for (const point of pair) must(at, 'node', point, points);
    }
    for (const [fact, is] of Object.entries(m.knownBy)) mustChoose(`${where}, knownBy`, fact, is);
    for (const n of m.nodes) for (const c of n.covers) must(`${where}, node "${n.id}"`, 'cover', c, covers);
    for (const b of m.branches) {
      for (const n of [b.a, b.b]) must(`${where}, branch "${b.id}"`, 'node', n, nodes);
      if (b.follows) {
        const at = `${where}, branch "${b.id}", follows`;
        if (must(at, 'fact', b.follows.at, names('facts.json')) && facts.get(b.follows.at)?.unit !== '°C')
          out.push(`${at}: "${b.follows.at}" is in ${facts.get(b.follows.at)?.unit}; a temperature is in °C`);
        for (const curve of b.follows.curves) must(at, 'curve', curve, new Set(curveIds()));
      }
      for (const s of [...(b.closedIn ?? []), ...(b.acIn ?? [])]) must(`${where}, branch "${b.id}"`, 'state', s, states);
    }
    for (const x of m.lifts) {
      must(`${where}, lift "${x.id}"`, 'node', x.node, nodes);
      for (const b of x.opens) must(`${where}, lift "${x.id}"`, 'branch', b, branches);
    }
  }
  for (const s of list<MachineState>('states.json')) {
    must(`states.json, state "${s.id}", contactsAs`, 'state', s.contactsAs, states);
    for (const t of Object.keys(s.to)) must(`states.json, state "${s.id}", to`, 'state', t, states);
  }
  for (const c of list<{ id: string; behind?: string }>('covers.json'))
    if (c.behind) must(`covers.json, cover "${c.id}", behind`, 'cover', c.behind, covers);
  for (const h of supply?.hookups ?? [])
    for (const [fact, any] of Object.entries(h.knownBy ?? {}))
      for (const a of any) mustChoose(`supply.json, hookup "${h.id}", knownBy`, fact, a);
  for (const [fact, any] of Object.entries(supply?.wiredIn?.knownBy ?? {}))
    for (const a of any) mustChoose('supply.json, wiredIn, knownBy', fact, a);
  const supplyBranches = new Set((supply?.branches ?? []).map((b) => b.id));
  for (const key of ['shut', 'off'] as const)
    for (const b of supply?.wiredIn?.[key] ?? []) must(`supply.json, wiredIn, ${key}`, 'branch', b, supplyBranches);

  const vocabulary = l.singles['rule-words.json'] as RuleWords | undefined;
  const needs = names('needs.json');
  const ruleIds = new Set<string>();
  const foundBy = new Set<string>();
  for (const set of RULE_SETS)
    for (const r of list<Rule>(`rules/${set}.json`)) {
      const where = `rules/${set}.json, rule "${r.id}"`;
      if (ruleIds.has(r.id)) out.push(`${where}: stands in two sets; rule ids are used once`);
      ruleIds.add(r.id);
      if (vocabulary)
        out.push(
          ...conditionProblems(r.when as Condition, r.over, {
            facts,
            attributes,
            vocabulary,
            findings: names('findings.json'),
            families: families.keys(),
            needs,
            checks,
          }).map((p) => `${where}, ${p}`),
        );
      for (const truth of ['holds', 'fails', 'unknown'] as const)
        if (!r.examples.some((e) => e.truth === truth))
          out.push(`${where}, examples: none of them ${truth === 'unknown' ? 'is unknown' : truth}; a rule shows all three`);
      out.push(...unheard(set, r).map((p) => `${where}, ${p}`));
      const { finds, asks } = r.then as { finds?: string; asks?: string };
      if (set === 'verdicts' && asks !== undefined) must(`${where}, then.asks`, 'check', asks, names('checks.json'));
      if (finds !== undefined && must(`${where}, then.finds`, 'finding', finds, names('findings.json'))) foundBy.add(finds);
    }
  const met = new Set<string>();
  for (const { id, then } of list<Rule<'permits'>>('rules/permits.json')) {
    if (then.until !== undefined) must(`rules/permits.json, rule "${id}", then.until`, 'need', then.until, needs);
    if (then.meets !== undefined && must(`rules/permits.json, rule "${id}", then.meets`, 'need', then.meets, names('needs.json')))
      met.add(then.meets);
  }
  const signs = new Set<string>();
  for (const { id, then } of list<Rule<'stops'>>('rules/stops.json')) {
    const where = `rules/stops.json, rule "${id}"`;
    if (then.stop !== undefined && must(`${where}, then.stop`, 'stop', then.stop, names('stops.json'))) signs.add(then.stop);
    if (then.asks !== undefined) must(`${where}, then.asks`, 'check', then.asks, names('checks.json'));
  }
  if (l.lists['rules/permits.json'])
    for (const n of names('needs.json')) if (!met.has(n)) out.push(`needs.json, need "${n}": no permit rule says when it is met`);
  if (l.lists['rules/verdicts.json'])
    for (const x of names('findings.json'))
      if (!foundBy.has(x)) out.push(`findings.json, finding "${x}": no verdict rule finds it`);
  if (l.lists['rules/stops.json'])
    for (const s of names('stops.json')) if (!signs.has(s)) out.push(`stops.json, stop "${s}": no rule says when it holds`);

  const scan = (where: string, value: unknown): void => {
    if (typeof value === 'string') {
      const bad = JUMPER.exec(value);
      if (bad) out.push(`${where}: "${bad[0]}" speaks of taking a safety part out of circuit; no text may, for nobody`);
    } else if (Array.isArray(value)) for (const v of value) scan(where, v);
    else if (typeof value === 'object' && value !== null) for (const v of Object.values(value)) scan(where, v);
  };
  for (const [path, items] of Object.entries(l.lists)) for (const x of items as { id: string }[]) scan(`${path}, "${x.id}"`, x);
  for (const [path, x] of Object.entries(l.singles)) scan(path, x);
  scan('needs.json, cautions', l.beside.cautions);
  return out;
}
