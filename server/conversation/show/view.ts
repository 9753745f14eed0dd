import { factIn, isTold, isUnanswered } from '../../../rules/index.ts';
import type { Answer, CaseSettings, MachineInHand, Note } from '../../../rules/types.ts';
import type { CaseView } from '../../types.ts';
import { isNote } from '../stand/notes.ts';
import type { Saying } from '../stand/said.ts';
import { shownNumber, shownValue } from '../words/numbers.ts';

type Shown = Exclude<Answer, Note>;

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
      .flatMap((a) => (isNote(a) || replaced.has(a.seq) || (isTold(a) && !standing.has(a.seq)) ? [] : [a]))
      .map((a) => ({
        seq: a.seq,
        turn: a.turn,
        ...(factIn(a) !== undefined && { fact: factIn(a) }),
        label: label(a),
        shown: shown(a),
        said: a.said,
        act: a.act,
        ...changeable(factIn(a)),
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
  function label(a: Shown): string {
    const fact = factIn(a);
    if (fact !== undefined) return s.fact(fact);
    if (isUnanswered(a) && a.about.check !== undefined) return s.checkName(a.about.check);
    return a.act === 'set' && a.set.families ? s.say('complaint-label') : s.say('noted-machine');
  }
  function shown(a: Shown): string {
    if (isTold(a)) return shownValue(s, k, a.fact, a.value, units);
    if (isUnanswered(a)) return s.talk(a.act);
    return a.act === 'set' ? settingsWords(a.set) : '';
  }
  function settingsWords({ families, machine }: CaseSettings): string {
    if (families) return families.map(s.family).join('; ');
    const plate = machine?.plate;
    if (plate)
      return [
        plate.volts && shownNumber(plate.volts, 'V', units),
        plate.total_w && shownNumber(plate.total_w, 'W', units),
        plate.heater_w && shownNumber(plate.heater_w, 'W', units),
        plate.amps && shownNumber(plate.amps, 'A', units),
      ]
        .filter(Boolean)
        .join(', ');
    return machineWords(machine);
  }
}
