import { factIn, isTold, isUnanswered } from '../../../rules/index.ts';
import type { Answer, CaseSettings, MachineInHand, Note } from '../../../rules/types.ts';
import type { CaseView } from '../../types.ts';
import { isNote } from '../stand/notes.ts';
import type { Saying } from '../stand/said.ts';
import { shownNumber, shownValue } from '../words/numbers.ts';
import { plateShown } from './plate-words.ts';

type Line = CaseView['answers'][number];

/** The case as it is shown; id and revision are the routes' to give. */
export function viewOf(x: Saying): CaseView {
  const { at } = x;
  return {
    id: '',
    rev: 0,
    audience: at.facts.audience,
    language: at.language,
    families: at.facts.families,
    units: at.facts.units,
    machine: at.facts.machine,
    answers: linesShown(x).map((a) => lineOf(x, a)),
  };
}

type Shown = Exclude<Answer, Note>;

/** Every answer that stands and was not put right since; notes of the talk are none. */
function linesShown({ at }: Saying): Shown[] {
  const replaced = new Set(at.facts.readings.flatMap((r) => (r.replaces === undefined ? [] : [r.replaces])));
  const standing = new Set(at.facts.readings.map((r) => r.seq));
  return at.answers.flatMap((a) => (isNote(a) || replaced.has(a.seq) || (isTold(a) && !standing.has(a.seq)) ? [] : [a]));
}

function lineOf(x: Saying, a: Shown): Line {
  const fact = factIn(a);
  return {
    seq: a.seq,
    turn: a.turn,
    ...(fact !== undefined && { fact }),
    label: labelOf(x, a),
    ...(isTold(a) && { value: a.value }),
    shown: shownOf(x, a),
    said: a.said,
    act: a.act,
    ...changeable(x, fact),
  };
}

function labelOf({ s }: Saying, a: Shown): string {
  const fact = factIn(a);
  if (fact !== undefined) return s.fact(fact);
  if (isUnanswered(a) && a.about.check !== undefined) return s.checkName(a.about.check);
  return s.say(a.act === 'set' && a.set.families ? 'complaint-label' : 'noted-machine');
}

function shownOf(x: Saying, a: Shown): string {
  const { k, s, at } = x;
  if (isTold(a)) return shownValue(s, k, a.fact, a.value, at.facts.units);
  if (isUnanswered(a)) return s.talk(a.act);
  return a.act === 'set' ? settingsWords(x, a.set) : '';
}

function settingsWords(x: Saying, { families, machine }: CaseSettings): string {
  if (families) return families.map(x.s.family).join('; ');
  if (machine?.plate) return plateShown(machine.plate, x.at.facts.units);
  return machineWords(x, machine);
}

/** What was told of the machine and the meter, name by name; nothing special about it is said with a dash. */
function machineWords({ k, s, at }: Saying, { meter, leads_ohm, variants }: Partial<MachineInHand> = {}): string {
  const built = [...k.machines.values()].flatMap((m) => m.variants ?? []).filter((v) => variants?.includes(v.id));
  const titles = [...new Set(built.map((v) => v.title)), ...(meter ? [k.meters.get(meter)?.title ?? meter] : [])];
  const leads = leads_ohm === undefined ? [] : [shownNumber(leads_ohm, 'Ω', at.facts.units)];
  return [...titles.map((title) => s.name(title)), ...leads].join('; ') || (variants ? '–' : '');
}

/** What a line can be changed to: the fact's own choices, or a number. */
function changeable({ k, s }: Saying, id: string | undefined): Pick<Line, 'choices' | 'unit'> {
  const fact = id === undefined ? undefined : k.facts.get(id);
  if (!fact) return {};
  if (fact.kind === 'choice') return { choices: (fact.choices ?? []).map((c) => ({ id: c, label: s.choice(fact.id, c) })) };
  return fact.unit ? { unit: fact.unit } : {};
}
