import { forMachine } from '../../rules/engine/case.ts';
import { centreOf } from '../../rules/engine/table.ts';
import { inTalk } from '../../rules/engine/talk.ts';
import { knowledge, prepare } from '../../rules/index.ts';
import type { Check, Circuit, Knowledge, Prepared } from '../../rules/types.ts';
import type { Shown } from '../dryer/dryer.ts';

/**
 * A dryer out of the knowledge itself: readings at their computed middle, answers the likeliest its fault gives under this complaint.
 * It shows whether the knowledge hangs together, not whether it is true; for that there is the dryer in the circuit simulator.
 * `quiet`: the danger signs are denied, so that the search is put to the test and not the stop.
 */
export function modelDryer(machine: string, faults: readonly string[], family: string, options: { quiet?: boolean } = {}) {
  const k = knowledge();
  const circuit = k.machines.get(machine)!;
  const p = inTalk(
    prepare(k, {
      circuits: [machine],
      plate: {},
      hookup: likeliestSlots(k, faults) === 'three' ? 'three-wire' : 'four-wire',
      meter: [...k.meters.keys()][0]!,
      system: k.supply.systems[0]!.id,
    }),
    [family],
  );
  return {
    async answer(check: Pick<Check, 'settles' | 'measure' | 'state'> & Partial<Check>): Promise<Record<string, Shown | string>> {
      const full = k.checks.get(check.id!)!;
      const shows = centreOf(p, full, faults, 1);
      const out: Record<string, Shown | string> = {};
      for (const fact of full.settles) {
        const read = full.measure?.reads.find((r) => r.fact === fact);
        if (read) out[fact] = !forMachine(read.points, machine) ? 'cannot' : shows ? shown(shows.get(fact)) : 'will-not-run';
        else out[fact] = plain(p, circuit, full, fact, faults, shows?.get(fact), options.quiet ?? false);
      }
      return out;
    },
  };
}

const shown = (v: unknown): Shown => (typeof v === 'number' ? Number(v.toPrecision(4)) : ((v as Shown | undefined) ?? 'cannot'));

// Of what the knowledge gives no likelihood the ordinary answer: the machine's own kind, else "none" of a list, else the first choice.
function plain(
  p: Prepared,
  circuit: Circuit,
  check: Check,
  fact: string,
  faults: readonly string[],
  likeliest: unknown,
  quiet: boolean,
): string {
  const k = p.knowledge;
  if (circuit.knownBy[fact]) return circuit.knownBy[fact];
  const f = k.facts.get(fact)!;
  const named = faults.some((id) => k.faults.get(id)?.signs[fact]);
  if (quiet && f.danger && check.choices?.none?.[fact]) return check.choices.none[fact];
  if ((named || f.silent) && typeof likeliest === 'string') return likeliest;
  if (fact === 'slots') return 'four';
  // This dryer cannot be mended; a case with its repair is in tests/rules/engine/rounds.test.ts.
  if (fact === 'repair_done') return 'not-yet';
  return check.choices?.none?.[fact] ?? f.choices?.[0] ?? 'cannot';
}

const likeliestSlots = (k: Knowledge, faults: readonly string[]): string | undefined => {
  for (const id of faults) {
    const signs = k.faults.get(id)?.signs.slots;
    if (signs) return Object.entries(signs).sort((a, b) => k.likely[b[1]] - k.likely[a[1]])[0]![0];
  }
  return undefined;
};
