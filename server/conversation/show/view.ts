import type { MachineInHand } from '../../../rules/types.ts';
import type { CaseView } from '../../types.ts';
import { isNote } from '../stand/notes.ts';
import type { Saying } from '../stand/said.ts';
import { shownNumber, shownValue } from '../words/numbers.ts';

/** The case as it is shown; id and revision are the routes' to give. */
export function viewOf({ k, s, at }: Saying): CaseView {
  const replaced = new Set(at.facts.readings.flatMap((r) => (r.replaces === undefined ? [] : [r.replaces])));
  const standing = new Set(at.facts.readings.map((r) => r.seq));
  const { units } = at.facts;
  return {
    id: '',
    rev: 0,
    audience: at.facts.audience,
    language: at.language,
    families: at.facts.families,
    units,
    machine: at.facts.machine,
    answers: at.answers
      .filter((a) => !isNote(a) && !replaced.has(a.seq))
      .filter((a) => a.value === undefined || standing.has(a.seq))
      .map((a) => ({
        seq: a.seq,
        turn: a.turn,
        ...(a.fact && { fact: a.fact }),
        label: label(a),
        ...(a.value !== undefined && { value: a.value }),
        shown: shown(a),
        said: a.said,
        act: a.act,
        ...changeable(a.fact),
      })),
  };

  function changeable(id: string | undefined): Pick<CaseView['answers'][number], 'choices' | 'unit'> {
    const fact = id === undefined ? undefined : k.facts.get(id);
    if (!fact) return {};
    if (fact.kind === 'choice') return { choices: (fact.choices ?? []).map((c) => ({ id: c, label: s.choice(fact.id, c) })) };
    return fact.unit ? { unit: fact.unit } : {};
  }
  /** What was told of the machine and the meter, name by name; nothing special about it is said with a dash. */
  function machineWords({ meter, leads_ohm, variants }: Partial<MachineInHand> = {}): string {
    const built = [...k.machines.values()].flatMap((m) => m.variants ?? []).filter((v) => variants?.includes(v.id));
    const titles = [...new Set(built.map((v) => v.title)), ...(meter ? [k.meters.get(meter)?.title ?? meter] : [])];
    const words = [
      ...titles.map((title) => s.name(title)),
      ...(leads_ohm === undefined ? [] : [shownNumber(leads_ohm, 'Ω', units)]),
    ];
    return words.join('; ') || (variants ? '–' : '');
  }
  function label(a: (typeof at.answers)[number]): string {
    if (a.fact) return s.fact(a.fact);
    if (a.check) return s.checkName(a.check);
    return a.set?.families ? s.say('complaint-label') : s.say('noted-machine');
  }
  function shown(a: (typeof at.answers)[number]): string {
    if (a.fact && a.value !== undefined) return shownValue(s, k, a.fact, a.value, units);
    if (a.set?.families) return a.set.families.map(s.family).join('; ');
    const plate = a.set?.machine?.plate;
    if (plate)
      return [
        plate.volts && shownNumber(plate.volts, 'V', units),
        plate.total_w && shownNumber(plate.total_w, 'W', units),
        plate.heater_w && shownNumber(plate.heater_w, 'W', units),
        plate.amps && shownNumber(plate.amps, 'A', units),
      ]
        .filter(Boolean)
        .join(', ');
    if (a.act === 'unsure' || a.act === 'declined' || a.act === 'later') return s.talk(a.act);
    return machineWords(a.set?.machine);
  }
}
