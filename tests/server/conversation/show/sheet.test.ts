import { describe, expect, test } from 'vitest';
import type { JobSheet } from '../../../../server/shapes/sheet.ts';
import { Case, inWorld, talkOf, throughGates } from '../parts.ts';

const NASTY = '# cold <script>alert(1)</script> | [x](javascript:y) `z`';
const talk = talkOf({
  [NASTY]: [{ is: 'complaint', family: 'no-heat', evidence: '' }],
  'my aunt had one': [{ is: 'noted', fact: 'aunt', value: 'yes', evidence: '' }],
});
const sheet = async (c: Case) => {
  const { json, markdown } = await talk.sheet(c.record);
  return { json: json as JobSheet, markdown };
};

describe('the job sheet', () => {
  test('of a case just opened is whole: nothing yet, and still open', async () => {
    const c = await Case.open(talk, 'homeowner');
    const { json, markdown } = await sheet(c);
    expect(json.readings).toEqual([]);
    expect(markdown).toMatch(/## What was told\n\nNothing yet\./);
    expect(markdown).toMatch(/The case is still open/);
  });
  test('quotes the complaint as told, letter for letter and as no markup', async () => {
    const c = await Case.open(talk, 'agent');
    await c.say(NASTY);
    await c.say('my aunt had one');
    const { json, markdown } = await sheet(c);
    expect(json.complaint.said).toEqual([NASTY, 'my aunt had one']);
    expect(markdown).toContain('> \\# cold \\<script\\>alert(1)\\</script\\> \\| \\[x\\]');
    expect(markdown).not.toMatch(/<script>/);
  });
  test('tells each reading with points, state, what was expected, verdict and who told it; lists without a danger in one line', async () => {
    const c = await Case.open(talk, 'technician', { plate: { volts: 240, total_w: 5600 } });
    await c.tell('complaint', 'no-heat');
    await throughGates(c);
    await c.tell('coil_ohms', 'open', { lifted: true });
    const { json, markdown } = await sheet(c);
    expect(json.measured).toMatchObject([
      {
        fact: 'coil_ohms',
        shown: 'OL',
        lifted: true,
        by: 'technician',
        verdict: 'open (OL)',
        expectedShown: expect.stringMatching(/Ω/),
      },
    ]);
    expect(json.measured[0]!.where).toMatch(/coil/);
    expect(json.measured[0]!.state).toMatch(/plug out/);
    expect(json.safety.clear).toEqual(['gate now', 'gate signs']);
    expect(markdown).toMatch(/240 V, 5600 W/);
    expect(markdown).toMatch(
      /\| coil ohms \| OL \| .*one lead off \| .*plug out.* \| .*Ω.* \| open \(OL\) \| …+ \| technician \|/,
    );
    expect(markdown.match(/gas smell/g)).toBeNull();
    expect(json.closeOut).toMatchObject([{ asFound: 'OL', asLeft: null }]);
  });
  test('has a pair of points once, however often it was read, and the plate as it was told', async () => {
    const c = await Case.open(talk, 'technician', { plate: { volts: 240 } });
    await c.tell('complaint', 'no-heat');
    await throughGates(c);
    await c.tell('coil_ohms', 10.6, { lifted: true });
    await c.tell('coil_ohms', 10.6, { lifted: true });
    const twice = await sheet(c);
    expect(twice.json.closeOut).toMatchObject([{ values: ['10.6 Ω', '10.6 Ω'], asFound: '10.6 Ω (read 2 times)' }]);
    expect(twice.markdown.match(/\| coil ohms/g)).toHaveLength(1);
    expect(twice.markdown).toMatch(/Rating plate: 120 240, 240 V, watts not read yet/);
    expect(twice.markdown).not.toMatch(/Rating plate: not read yet/);
    await c.tell('coil_ohms', 11);
    expect((await sheet(c)).json.closeOut[0]!.asFound).toBe('10.6 Ω, 10.6 Ω, 11 Ω');
  });
  test('tells how likely each suspect is once', async () => {
    const c = await Case.open(talk, 'homeowner');
    await c.tell('complaint', 'no-heat');
    await throughGates(c);
    const { json, markdown } = await sheet(c);
    expect(json.result.suspects.length).toBeGreaterThan(1);
    for (const { label } of json.result.suspects) expect(markdown.split(`${label} (`).length, label).toBe(2);
  });
  test('holds what was written in it, escaped, and taking back an answer leaves that written', async () => {
    const c = await Case.open(talk, 'agent');
    await c.tell('complaint', 'no-heat');
    const written = await talk.patch(c.record, { job: { contact_name: 'A | <b>B</b>', access_way: 'third floor' } });
    if ('problem' in written) throw new Error(written.problem.message);
    expect([written.added, written.settings?.job?.access_way]).toEqual([[], 'third floor']);
    c.record = { ...c.record, settings: written.settings! };
    await c.tell('gas_smell', 'no');
    await c.undo();
    const { json, markdown } = await sheet(c);
    expect(json.job.find(({ id }) => id === 'contact')?.fields[0]).toMatchObject({ value: 'A | <b>B</b>' });
    expect(markdown).toContain('Name: **A \\| \\<b\\>B\\</b\\>**');
    expect(json.job.some(({ phase }) => phase === 'after')).toBe(false);
    const cleared = await talk.patch(c.record, { job: { access_way: ' ' } });
    expect('settings' in cleared && cleared.settings?.job).toEqual({ contact_name: 'A | <b>B</b>' });
  });
  test('writes the electrician a letter where the supply is at fault, and names what ruled the rest out', async () => {
    const c = await Case.open(talk, 'technician');
    await c.tell('complaint', 'no-heat');
    await inWorld(c, 'supply-leg-lost-other-leg');
    const { json, markdown } = await sheet(c);
    expect(json.ruledOut.length).toBeGreaterThan(5);
    expect(json.ruledOut.every((r) => r.by.length > 0)).toBe(true);
    expect(markdown).toMatch(/- .* rules out: .*element open/);
    const q = c.last.reply.consultation;
    expect(q.conclusion?.is).toBe('confirmed');
    expect(json.letter).toMatchObject({ to: expect.arrayContaining(['a licensed electrician']) });
    expect(json.letter!.readings).toContainEqual(
      expect.stringMatching(/^other leg to neutral receptacle: 0 V, one lead on: receptacle/),
    );
    expect(json.visit!.parts).toEqual([]);
    expect(markdown).toMatch(/## For the electrician or the power company/);
  });
  test('of a stop tells the stop and who comes, and no part', async () => {
    const c = await Case.open(talk, 'homeowner');
    await c.tell('complaint', 'no-heat');
    await c.tell('gas_smell', 'yes');
    const { json, markdown } = await sheet(c);
    expect(json.safety.stops.map((s) => s.sign)).toEqual(['gas-smell']);
    expect(json.safety.everStopped).toEqual(['gas smell']);
    expect(json.visit).toMatchObject({ mayUse: expect.stringMatching(/Do not use/), parts: [] });
    expect(markdown).toMatch(/\*\*gas smell or hiss\*\*/);
    expect([json.result.suspects, json.result.words, json.ruledOut]).toEqual([[], [], []]);
    expect(markdown).not.toMatch(/Still possible|%|## Result|rules out/);
  });
});
