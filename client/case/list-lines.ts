import type { Ask } from '../../server/types.ts';

/** A line of a list: a choice by itself, or one that several choices stand under. */
export interface ListLine {
  id: string;
  label: string;
  /** Set where several choices stand under this line; they come out when it is ticked. */
  under?: Ask['choices'];
}

/** The lines of a list without its "none"; a group stands at the place of the first of its choices. */
export function linesOf({ choices, groups = [] }: Pick<Ask, 'choices' | 'groups'>): ListLine[] {
  const groupOf = new Map(groups.flatMap((group) => group.of.map((id) => [id, group] as const)));
  return choices
    .filter(({ id }) => id !== 'none')
    .flatMap((choice): ListLine[] => {
      const group = groupOf.get(choice.id);
      if (!group) return [choice];
      if (group.of[0] !== choice.id) return [];
      return [{ id: group.id, label: group.label, under: choices.filter(({ id }) => group.of.includes(id)) }];
    });
}

/** What is ticked of a list: choices, and the lines that were opened. */
export interface Ticks {
  ticked: readonly string[];
  opened: readonly string[];
}
const put = (ids: readonly string[], id: string, on: boolean): string[] =>
  on ? [...ids, id] : ids.filter((other) => other !== id);

export const tickChoice = (ticks: Ticks, id: string, on: boolean): Ticks => ({ ...ticks, ticked: put(ticks.ticked, id, on) });

/** A line with choices under it that is closed again takes their ticks along. */
export function tickLine(ticks: Ticks, { id, under }: ListLine, on: boolean): Ticks {
  if (!under) return tickChoice(ticks, id, on);
  const ticked = on ? ticks.ticked : ticks.ticked.filter((picked) => !under.some((choice) => choice.id === picked));
  return { ticked, opened: put(ticks.opened, id, on) };
}

/** The first line that was opened with nothing under it told: a danger left open. */
export const untold = (lines: readonly ListLine[], { ticked, opened }: Ticks): ListLine | undefined =>
  lines.find(({ id, under }) => opened.includes(id) && !under?.some((choice) => ticked.includes(choice.id)));
