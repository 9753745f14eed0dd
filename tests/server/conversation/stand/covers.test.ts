import { describe, expect, test } from 'vitest';
import { usesPower } from '../../../../rules/knowledge/touches.ts';
import { createConversation } from '../../../../server/conversation/index.ts';
import { Case, k, text, throughGates } from '../parts.ts';

const talk = await createConversation();
const usesPowerNow = (c: Case): boolean => usesPower(k.checks.get(c.last.reply.ask!.check)!.touches);
/** Answers what is asked with its first choice, up to the first question that `until` picks or the end. */
async function answered(c: Case, until: (c: Case) => boolean, answers: Record<string, string> = {}): Promise<string[]> {
  const asked: string[] = [];
  for (let i = 0; i < 60 && c.last.reply.ask && !until(c); i++) {
    const { check, kind, choices } = c.last.reply.ask;
    asked.push(check);
    if (kind === 'many') await c.tell(check, 'none');
    else if (kind === 'readings') await c.tell(check, undefined, { act: 'declined' });
    else await c.tell(choices[0]!.fact ?? check, answers[choices[0]!.fact ?? check] ?? choices[0]!.id);
  }
  return asked;
}

describe('covers that are off are part of the case', () => {
  test.each(['homeowner', 'agent'] as const)('a %s who says that the back is off puts it back, or nothing runs', async (who) => {
    const c = await Case.open(talk, who);
    await c.say('it turns but there is no heat, and I took the back off to look');
    expect(c.fact('covers_now')).toBe('back-off');
    const asked = await answered(c, usesPowerNow, { covers_back: 'no' });
    expect(asked.filter((id) => id === 'covers-back-on')).toHaveLength(1);
    expect(c.last.reply.ask).toBeUndefined();
  });

  test('once all are back on, the search goes on, and a cover told off again stops the runs again', async () => {
    const c = await Case.open(talk, 'homeowner');
    await c.say('it turns but there is no heat, and the back is off');
    const asked = await answered(c, usesPowerNow, { covers_back: 'yes' });
    expect(asked).toContain('covers-back-on');
    expect(c.last.reply.ask).toBeDefined();
    await c.say('the back is off');
    await answered(c, usesPowerNow);
    expect(c.last.reply.ask).toBeUndefined();
  });

  test('a technician is told first what goes back on before a run; done, it is on', async () => {
    const c = await Case.open(talk, 'technician');
    await c.say('it turns but there is no heat, and the back is off');
    await throughGates(c, { qualified: 'no' });
    await answered(c, usesPowerNow);
    expect(text(c.last.reply, 'ask')).toMatch(/^First, with the plug out, put back: rear panel\./);
    const { check, choices } = c.last.reply.ask!;
    await c.tell(choices[0]!.fact ?? check, choices[0]!.id);
    await answered(c, usesPowerNow);
    expect(text(c.last.reply, 'ask')).not.toMatch(/put back/);
  });

  test('a live reading behind a cover does not want that cover on', async () => {
    const c = await Case.open(talk, 'technician');
    await c.say('it turns but there is no heat, and the back is off');
    await throughGates(c);
    const live = () => k.checks.get(c.last.reply.ask!.check)!.level === 4;
    await answered(c, live);
    expect(c.last.reply.ask).toBeDefined();
    expect(text(c.last.reply, 'ask')).not.toMatch(/put back/);
  });
});
