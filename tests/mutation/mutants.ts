import { FILES } from '../../rules/knowledge/files.ts';
import { fnv1a64 } from '../../rules/knowledge/hash.ts';

/** One fault put into a copy of the knowledge: never into the files on disk. */
export interface Mutant {
  kind: string;
  /** What stands there now, in one line. */
  what: string;
  parts: Record<string, unknown>;
}
// biome-ignore lint/suspicious/noExplicitAny: the files are broken in ways no type allows
type Json = any;
/** A place that can be broken, and how; it works on a copy. */
interface Site {
  what: string;
  file: string;
  more?: string;
  breakIt: (copy: Record<string, Json>) => void;
}

const files = FILES as Record<string, Json>;
const RULES = Object.keys(files).filter((f) => f.startsWith('rules/'));
const MACHINES = Object.keys(files).filter((f) => f.startsWith('machines/'));
const list = (all: Record<string, Json>, file: string): Json[] => Object.values(all[file]).find(Array.isArray) as Json[];
const items = (file: string): Json[] => list(files, file);

/** Every leaf of every rule, as the path of indices and keys that leads to it. */
function leaves(file: string): { rule: number; path: (string | number)[]; leaf: Json; siblings: number }[] {
  const out: ReturnType<typeof leaves> = [];
  items(file).forEach((r, rule) => {
    const walk = (c: Json, path: (string | number)[], siblings: number): void => {
      for (const key of ['all', 'any'])
        if (c[key])
          c[key].forEach((x: Json, i: number) => {
            walk(x, [...path, key, i], c[key].length);
          });
      if (c.not) walk(c.not, [...path, 'not'], 1);
      if (c.fact) out.push({ rule, path, leaf: c, siblings });
    };
    walk(r.when, ['when'], 1);
  });
  return out;
}
const at = (of: Json, path: readonly (string | number)[]): Json => path.reduce((v, p) => v[p], of);

const OTHER: Record<string, string> = {
  equal: 'notEqual',
  notEqual: 'equal',
  in: 'notIn',
  notIn: 'in',
  lessThan: 'greaterThan',
  lessThanInclusive: 'greaterThan',
  greaterThan: 'lessThan',
  greaterThanInclusive: 'lessThan',
};
const flips = (file: string): Site[] =>
  leaves(file).map(({ rule, path, leaf }) => ({
    what: `${file} ${items(file)[rule].id}: ${leaf.fact} ${leaf.operator} -> ${OTHER[leaf.operator]}`,
    file,
    breakIt: (all) => {
      at(list(all, file)[rule], path).operator = OTHER[leaf.operator];
    },
  }));
const drops = (file: string): Site[] =>
  leaves(file)
    .filter(({ siblings }) => siblings > 1)
    .map(({ rule, path, leaf }) => ({
      what: `${file} ${items(file)[rule].id}: condition on ${leaf.fact} dropped`,
      file,
      breakIt: (all) => {
        at(list(all, file)[rule], path.slice(0, -1)).splice(path.at(-1) as number, 1);
      },
    }));
const words = (file: string): Site[] =>
  leaves(file).flatMap(({ rule, path, leaf }) => {
    const fact = items('facts.json').find((f) => f.id === leaf.fact);
    const now = Array.isArray(leaf.value) ? leaf.value[0] : leaf.value;
    const other = fact?.choices?.find((c: string) => c !== now && !(Array.isArray(leaf.value) && leaf.value.includes(c)));
    if (!other) return [];
    return {
      what: `${file} ${items(file)[rule].id}: ${leaf.fact} ${now} -> ${other}`,
      file,
      breakIt: (all) => {
        const c = at(list(all, file)[rule], path);
        if (Array.isArray(c.value)) c.value[0] = other;
        else c.value = other;
      },
    };
  });
const groups = (file: string): Site[] =>
  items(file).flatMap((r, i) =>
    (r.when.all?.length ?? 0) > 1
      ? {
          what: `${file} ${r.id}: all -> any`,
          file,
          breakIt: (all: Record<string, Json>) => {
            const rule = list(all, file)[i];
            rule.when = { any: rule.when.all };
          },
        }
      : [],
  );
const thens = (file: string): Site[] =>
  items(file).flatMap((r, i) =>
    Object.entries(r.then).flatMap(([key, now]) => {
      const other = items(file).find((x) => x.then[key] !== undefined && x.then[key] !== now)?.then[key];
      if (other === undefined) return [];
      return {
        what: `${file} ${r.id}: then ${key} ${now} -> ${other}`,
        file,
        breakIt: (all: Record<string, Json>) => {
          list(all, file)[i].then[key] = other;
        },
      };
    }),
  );
/** One site for each item of a list file that `change` has something to break on. */
const each = (file: string, of: (x: Json, copy: (all: Record<string, Json>) => Json) => (Site | Site[] | undefined)[]): Site[] =>
  items(file).flatMap((x, i) =>
    of(x, (all) => list(all, file)[i])
      .flat()
      .filter((s) => s !== undefined),
  );
const TRADES = ['owner', 'appliance', 'electrician', 'utility', 'gas', 'duct'];
const next = (of: readonly string[], now: string): string => of[(of.indexOf(now) + 1) % of.length]!;
const LOUD: Record<string, string> = { always: 'rare', usual: 'never', rare: 'always', never: 'usual' };

/** Every kind of fault, with every place it can be put. */
const KINDS: Record<string, () => Site[]> = {
  'operator flipped in a stop': () => flips('rules/stops.json'),
  'operator flipped in a permit': () => flips('rules/permits.json'),
  'operator flipped in another rule': () => RULES.filter((f) => !/stops|permits/.test(f)).flatMap(flips),
  'condition of a permit dropped': () => drops('rules/permits.json'),
  'condition of another rule dropped': () => RULES.filter((f) => !/permits/.test(f)).flatMap(drops),
  'word of a rule changed': () => RULES.flatMap(words),
  'all made any': () => RULES.flatMap(groups),
  'what a rule says changed': () => RULES.flatMap(thens),
  'edge of a limit moved': () =>
    each('limits.json', (x, copy) =>
      (x.lo === x.hi ? ['both'] : ['lo', 'hi'])
        .filter((edge) => edge === 'both' || (x[edge] > 0 && x[edge] < 4e7))
        .map((edge) => ({
          what: `limit ${x.id}: ${edge} ${x[edge === 'both' ? 'lo' : edge]} times ${edge === 'lo' ? 0.6 : 1.5}`,
          file: 'limits.json',
          breakIt: (all) => {
            const l = copy(all);
            if (edge !== 'hi') l.lo *= edge === 'lo' ? 0.6 : 1.5;
            if (edge !== 'lo') l.hi *= 1.5;
          },
        })),
    ),
  'trade swapped': () =>
    each('faults.json', (x, copy) => {
      const to = next(TRADES, x.end.trades[0]);
      return [
        {
          what: `fault ${x.id}: ${x.end.trades[0]} -> ${to}`,
          file: 'faults.json',
          breakIt: (all) => {
            const { trades } = copy(all).end;
            copy(all).end.trades = [to, ...trades.slice(1).filter((t: string) => t !== to)];
          },
        },
      ];
    }),
  'use allowed that is not': () =>
    each('faults.json', (x, copy) => [
      x.end.mayUse === 'no'
        ? {
            what: `fault ${x.id}: may use no -> yes`,
            file: 'faults.json',
            breakIt: (all) => {
              copy(all).end.mayUse = 'yes';
            },
          }
        : undefined,
    ]),
  'level moved': () =>
    each('checks.json', (x, copy) =>
      [-1, 1]
        .filter((d) => x.level + d >= 0)
        .map((d) => ({
          what: `check ${x.id}: level ${x.level} -> ${x.level + d}`,
          file: 'checks.json',
          breakIt: (all) => {
            copy(all).level += d;
          },
        })),
    ),
  'need of a check dropped': () =>
    each('checks.json', (x, copy) =>
      x.needs.map((n: string, i: number) => ({
        what: `check ${x.id}: need ${n} dropped`,
        file: 'checks.json',
        breakIt: (all: Record<string, Json>) => {
          copy(all).needs.splice(i, 1);
        },
      })),
    ),
  'what a check operates dropped': () =>
    each('checks.json', (x, copy) =>
      x.touches.map((n: string, i: number) => ({
        what: `check ${x.id}: touches ${n} dropped`,
        file: 'checks.json',
        breakIt: (all: Record<string, Json>) => {
          copy(all).touches.splice(i, 1);
        },
      })),
    ),
  'outcome classes swapped': () =>
    each('checks.json', (x, copy) => [
      x.measure && x.outcomes.length > 1
        ? x.outcomes.slice(1).map((o: Json, i: number) => ({
            what: `check ${x.id}: outcomes ${x.outcomes[i].id} and ${o.id} swapped`,
            file: 'checks.json',
            breakIt: (all: Record<string, Json>) => {
              const [a, b] = [copy(all).outcomes[i], copy(all).outcomes[i + 1]];
              [a.when, b.when] = [b.when, a.when];
            },
          }))
        : undefined,
    ]),
  'points exchanged': () =>
    each('checks.json', (x, copy) => [
      x.measure?.reads.length > 1
        ? x.measure.reads.slice(1).map((r: Json, i: number) => ({
            what: `check ${x.id}: places of ${x.measure.reads[i].fact} and ${r.fact} exchanged`,
            file: 'checks.json',
            breakIt: (all: Record<string, Json>) => {
              const [a, b] = [copy(all).measure.reads[i], copy(all).measure.reads[i + 1]];
              [a.across, b.across] = [b.across, a.across];
            },
          }))
        : undefined,
    ]),
  'points moved to a neighbor': () =>
    MACHINES.flatMap((file) =>
      Object.entries<Json>(files[file].places).flatMap(([place, at]) => {
        const [first, second] = at.points ?? at;
        const other = files[file].branches.find((b: Json) => b.b === second && b.a !== first)?.a;
        return other
          ? [
              {
                what: `${file}, ${place}: ${first},${second} -> ${first},${other}`,
                file,
                breakIt: (all: Record<string, Json>) => {
                  const moved = all[file].places[place];
                  (moved.points ?? moved)[1] = other;
                },
              },
            ]
          : [];
      }),
    ),
  'confirm link sent to another outcome': () =>
    each('checks.json', (x, copy) =>
      x.confirms.flatMap((c: Json, i: number) => {
        const other = x.outcomes.find((o: Json) => o.id !== c.outcome)?.id;
        return other
          ? {
              what: `check ${x.id}: ${c.fault} by ${c.outcome} -> by ${other}`,
              file: 'checks.json',
              breakIt: (all: Record<string, Json>) => {
                copy(all).confirms[i].outcome = other;
              },
            }
          : [];
      }),
    ),
  'confirm link sent to another fault': () =>
    each('checks.json', (x, copy) =>
      x.confirms.map((c: Json, i: number) => {
        const all = items('faults.json');
        const other = all[(all.findIndex((f) => f.id === c.fault) + 7) % all.length].id;
        return {
          what: `check ${x.id}: confirms ${c.fault} -> ${other}`,
          file: 'checks.json',
          breakIt: (copied: Record<string, Json>) => {
            copy(copied).confirms[i].fault = other;
          },
        };
      }),
    ),
  'word of a sign changed': () =>
    each('faults.json', (x, copy) =>
      Object.entries(x.signs as Record<string, Record<string, string>>).flatMap(([fact, by]) =>
        Object.entries(by)
          .filter(([, w]) => LOUD[w])
          .map(([answer, w]) => ({
            what: `fault ${x.id}: ${fact} ${answer} ${w} -> ${LOUD[w]}`,
            file: 'faults.json',
            breakIt: (all: Record<string, Json>) => {
              copy(all).signs[fact][answer] = LOUD[w];
            },
          })),
      ),
    ),
  'stop dropped with its rule': () =>
    each('stops.json', (x) => [
      {
        what: `stop ${x.id} dropped`,
        file: 'stops.json',
        more: 'rules/stops.json',
        breakIt: (all) => {
          const stops = list(all, 'stops.json');
          stops.splice(
            stops.findIndex((s) => s.id === x.id),
            1,
          );
          const rules = list(all, 'rules/stops.json');
          for (let i = rules.length - 1; i >= 0; i--) if (rules[i].then.stop === x.id) rules.splice(i, 1);
        },
      },
    ]),
  'stop made lighter': () =>
    each('stops.json', (x, copy) => [
      {
        what: `stop ${x.id}: stands until ${x.standsUntil} turned over`,
        file: 'stops.json',
        breakIt: (all) => {
          copy(all).standsUntil = x.standsUntil === 'made safe' ? 'outside help' : 'made safe';
        },
      },
      {
        what: `stop ${x.id}: first to call changed`,
        file: 'stops.json',
        breakIt: (all) => {
          copy(all).thenWho[0] = next(TRADES, x.thenWho[0]);
        },
      },
      x.suppresses.map((s: string, i: number) => ({
        what: `stop ${x.id}: no longer silences ${s}`,
        file: 'stops.json',
        breakIt: (all: Record<string, Json>) => {
          copy(all).suppresses.splice(i, 1);
        },
      })),
    ]),
  'danger no longer one': () =>
    each('facts.json', (x, copy) => [
      (x.danger ?? []).map((d: string, i: number) => ({
        what: `fact ${x.id}: ${d} no danger`,
        file: 'facts.json',
        breakIt: (all: Record<string, Json>) => {
          copy(all).danger.splice(i, 1);
        },
      })),
      x.unsureIs
        ? {
            what: `fact ${x.id}: not sure no longer ${x.unsureIs}`,
            file: 'facts.json',
            breakIt: (all) => {
              delete copy(all).unsureIs;
            },
          }
        : undefined,
    ]),
  'ohms of a branch moved': () =>
    MACHINES.flatMap((file) =>
      (files[file].branches as Json[]).flatMap((b, i) =>
        b.ohm >= 1 || b.share
          ? {
              what: `${file} ${b.id}: ${b.share ?? b.ohm} times 2.5`,
              file,
              breakIt: (all: Record<string, Json>) => {
                const branch = all[file].branches[i];
                if (branch.share) branch.share *= 2.5;
                branch.ohm *= 2.5;
              },
            }
          : [],
      ),
    ),
  'contact no longer closed in a state': () =>
    MACHINES.flatMap((file) =>
      (files[file].branches as Json[]).flatMap((b, i) =>
        (b.closedIn ?? []).map((s: string, j: number) => ({
          what: `${file} ${b.id}: open in ${s}`,
          file,
          breakIt: (all: Record<string, Json>) => {
            all[file].branches[i].closedIn.splice(j, 1);
          },
        })),
      ),
    ),
  'effect of a fault turned over': () =>
    each('faults.json', (x, copy) =>
      x.effects.flatMap((e: Json, i: number) =>
        e.branch
          ? {
              what: `fault ${x.id}: ${e.branch} ${e.ohm} -> ${e.ohm === 'open' ? 'closed' : 'open'}`,
              file: 'faults.json',
              breakIt: (all: Record<string, Json>) => {
                copy(all).effects[i].ohm = e.ohm === 'open' ? 'closed' : 'open';
              },
            }
          : [],
      ),
    ),
  'effect of a fault moved to another branch': () =>
    each('faults.json', (x, copy) =>
      x.effects.flatMap((e: Json, i: number) => {
        const to = e.branch && (e.branch === 'motor_heat' ? 'high_limit' : 'motor_heat');
        return e.branch && e.ohm === 'open'
          ? {
              what: `fault ${x.id}: ${e.branch} -> ${to}`,
              file: 'faults.json',
              breakIt: (all: Record<string, Json>) => {
                copy(all).effects[i].branch = to;
              },
            }
          : [];
      }),
    ),
  'gate dropped from a family': () =>
    each('families.json', (x, copy) =>
      x.gates.map((g: string, i: number) => ({
        what: `family ${x.id}: gate ${g} dropped`,
        file: 'families.json',
        breakIt: (all: Record<string, Json>) => {
          copy(all).gates.splice(i, 1);
        },
      })),
    ),
  'lead left on': () =>
    each('checks.json', (x, copy) =>
      x.measure?.lift === undefined
        ? []
        : [
            {
              what: `check ${x.id}: lead left on`,
              file: 'checks.json',
              breakIt: (all: Record<string, Json>) => {
                delete copy(all).measure.lift;
              },
            },
          ],
    ),
  'check done in another state': () =>
    each('checks.json', (x, copy) => {
      const to = { 'run-high': 'run-noheat', 'run-noheat': 'run-high', 'unplugged-heat': 'unplugged-off' }[x.state as string];
      return [
        x.measure && to
          ? {
              what: `check ${x.id}: in ${to} instead of ${x.state}`,
              file: 'checks.json',
              breakIt: (all: Record<string, Json>) => {
                copy(all).state = to;
              },
            }
          : undefined,
      ];
    }),
  'state of the machine turned over': () =>
    each('states.json', (x, copy) =>
      ['plugged', 'running', 'heatCalled'].map((key) => ({
        what: `state ${x.id}: ${key} ${x[key]} -> ${!x[key]}`,
        file: 'states.json',
        breakIt: (all) => {
          copy(all)[key] = !x[key];
        },
      })),
    ),
};

/** `count` mutants, kind by kind in turn, none twice. The seed orders the places of a kind by their words, so that a new one moves few of the others. */
export function mutants(count: number, seed: number): Mutant[] {
  const kinds = Object.entries(KINDS).map(([kind, all]) => {
    const sites = all().map((site) => [fnv1a64(`${seed} ${site.what}`), site] as const);
    if (!sites.length) throw new Error(`no place for: ${kind}`);
    return { kind, sites: sites.sort(([a], [b]) => (a < b ? -1 : 1)).map(([, site]) => site) };
  });
  const out: Mutant[] = [];
  for (let i = 0; out.length < count; i++) {
    const { kind, sites } = kinds[i % kinds.length]!;
    const site = sites.shift();
    if (!site) continue;
    const copy: Record<string, unknown> = { ...files };
    for (const file of [site.file, ...(site.more ? [site.more] : [])]) copy[file] = structuredClone(files[file]);
    site.breakIt(copy);
    out.push({ kind, what: site.what, parts: copy });
  }
  return out;
}
/** How many kinds of fault there are. */
export const KIND_COUNT = Object.keys(KINDS).length;
