import { describe, expect, test } from 'vitest';
import { knowledge } from '../../../../rules/index.ts';
import { createConversation } from '../../../../server/conversation/index.ts';
import { ourWords } from '../../../../server/conversation/words/index.ts';
import { speaker } from '../../../../server/conversation/words/speaker.ts';
import type { Ask } from '../../../../server/types.ts';
import { testApp } from '../../app/ask.ts';
import { englishOnly, lettersIn } from './spanish.ts';

const k = knowledge();
const conversation = await createConversation();
const english = englishOnly();
/** English words in all the texts of what is read. */
const englishIn = (...read: readonly unknown[]): string[] =>
  [...new Set(read.flatMap(textsOf).flatMap(lettersIn))].filter((w) => english.has(w));
const textsOf = (x: unknown): string[] =>
  typeof x === 'string' ? [x] : x !== null && typeof x === 'object' ? Object.values(x).flatMap(textsOf) : [];

// biome-ignore lint/suspicious/noExplicitAny: answers are held against their documented shapes by the helper
type Body = any;
/** What a person is shown of a turn. Ids, sources and the reasoning in ids are data. */
function shown({ case: view, reply }: Body): unknown[] {
  const { ask } = reply;
  return [
    reply.parts.map((p: Body) => p.text),
    ask && [ask.text, ask.why, ask.cautions, ask.covers, ask.stateWords, ask.script, ask.choices.map((c: Body) => c.label)],
    ask?.reads.map((r: Body) => [r.label, r.pointWords]),
    ask?.wiring && [
      ask.wiring.machine,
      ask.wiring.reads.map((r: Body) => [r.label, r.words]),
      ask.wiring.lift?.what,
      ask.wiring.covers,
      ask.wiring.stateWords,
    ],
    reply.evidence.map((e: Body) => [e.shown, e.because]),
    Object.values(reply.verdicts),
    reply.suspects.map((s: Body) => s.label),
    reply.ruledOut.map((s: Body) => s.label),
    view.answers.map((a: Body) => [a.label, a.shown, a.said]),
    view.choices.map((list: [string, string][]) => list.map(([, label]) => label)),
  ];
}

/** A case led over the API by buttons alone. */
async function led(
  audience: 'homeowner' | 'agent',
  family: string,
  pick: (ask: Ask) => Record<string, unknown>,
  { told = [], most = 40 }: { told?: object[]; most?: number } = {},
) {
  const { ask: call } = testApp({ conversation });
  const opened = await call('POST', '/api/cases', { audience, language: 'es' });
  const id: string = opened.body.case.id;
  const bodies: Body[] = [opened.body];
  const answer = async (body: object) => {
    const turn = await call('POST', `/api/cases/${id}/say`, { answer: body });
    expect(turn.status, JSON.stringify(turn.body)).toBe(200);
    bodies.push(turn.body);
    return turn.body;
  };
  let last = await answer({ fact: 'complaint', value: family });
  for (const one of told) last = await answer(one);
  for (let i = 0; i < most && last.reply.ask; i++) last = await answer(pick(last.reply.ask));
  const sheet = await call('GET', `/api/cases/${id}/sheet?as=markdown`);
  return { id, call, bodies, last, sheet: sheet.body as string };
}

/** The n-th answer of each question; lists are clear, terms are all met. */
const nth =
  (n: number, wanted: Record<string, string> = {}) =>
  (ask: Ask): Record<string, unknown> => {
    if (ask.reads.length) return { fact: ask.reads[0]!.fact, value: 'open', check: ask.check };
    const { fact } = ask.choices[0]!;
    const ids = ask.choices.map((c) => c.id);
    if (ask.kind === 'many')
      return { fact, value: ids.filter((id) => ask.check === 'ask-opt-in-terms' && id !== 'none').join(' ') || 'none' };
    const usual = wanted[ask.check] ?? (USUAL[ask.check] as string);
    return { fact, value: ids.includes(usual) ? usual : ids[n % ids.length], check: ask.check };
  };
const USUAL: Record<string, string> = { 'ask-kind': 'electric-vented', 'ask-slots': 'four', 'ask-signs-of-life': 'runs' };

describe.each(['homeowner', 'agent'] as const)('a whole talk with a %s in Spanish', (audience) => {
  test.each([...k.families.keys()])('%s, by buttons to its end, has no English in it', async (family) => {
    const { bodies, last, sheet } = await led(audience, family, nth(family.length));
    expect(bodies.flatMap((b) => englishIn(shown(b)))).toEqual([]);
    expect(englishIn(sheet)).toEqual([]);
    expect(last.case).toMatchObject({ language: 'es', audience });
    expect(bodies.length).toBeGreaterThan(5);
    // It ends as it should: with the end, or with a stop.
    expect(last.reply.ask).toBeUndefined();
    expect(last.reply.conclusion ?? last.reply.stops[0]).toBeDefined();
  });
  test('what is told beside the questions is answered in Spanish', async () => {
    const { id, call } = await led(audience, 'no-heat', nth(0), { most: 3 });
    const texts = [
      '¿por qué?',
      '¿cuánto cuesta?',
      '¿cuánto falta?',
      'no estoy seguro',
      '¿puedo usarla?',
      'blablabla xyz',
      'xyz blabla',
      'deshacer',
      '¿puedo puentear el fusible?',
      'con guantes de cocina',
    ];
    for (const text of texts) {
      const turn = await call('POST', `/api/cases/${id}/say`, { text });
      expect(turn.status).toBe(200);
      expect([text, englishIn(shown(turn.body))]).toEqual([text, []]);
    }
    const bridged = await call('POST', `/api/cases/${id}/say`, { text: 'lo quiero puentear con un clip' });
    expect(JSON.stringify(bridged.body.reply.parts)).toContain('Nunca anule una pieza de seguridad');
  });
});

test('a homeowner who meets every term is asked dead readings in Spanish, circuit and all', async () => {
  const terms = Object.keys(k.checks.get('ask-opt-in-terms')!.choices!).filter((id) => id !== 'none');
  const told = [
    { fact: 'opt_in', value: 'yes' },
    { fact: 'ask-opt-in-terms', value: terms.join(' ') },
    { fact: 'slots', value: 'four' },
    { fact: 'control_kind', value: 'dial' },
    { fact: 'heater_coils', value: 'two' },
  ];
  const wanted = { 'mark-dial-auto': 'still', 'run-5-min': 'cold', 'ask-warmth': 'never-warm' };
  const { bodies, call, id } = await led('homeowner', 'no-heat', nth(0, wanted), { told });
  const asked = bodies.filter((b) => b.reply.ask?.reads.length);
  expect(asked.length).toBeGreaterThan(0);
  const { body: drawing } = await call('GET', `/api/cases/${id}/drawing`);
  expect(drawing.nodes.length).toBeGreaterThan(20);
  expect(englishIn([drawing.nodes.map((n: Body) => [n.name, n.covers]), drawing.branches.map((b: Body) => b.part)])).toEqual([]);
  expect(bodies.flatMap((b) => englishIn(shown(b)))).toEqual([]);
});

test('any reading somebody tells, whoever should have taken it, is said back in Spanish', async () => {
  const { ask: call } = testApp({ conversation });
  for (const c of [...k.checks.values()].filter((x) => x.measure)) {
    const opened = await call('POST', '/api/cases', { audience: 'homeowner', language: 'es' });
    const answer = { fact: c.measure!.reads[0]!.fact, value: 1.5, check: c.id };
    const turn = await call('POST', `/api/cases/${opened.body.case.id}/say`, { answer });
    expect(turn.status, c.id).toBe(200);
    expect([c.id, englishIn(shown(turn.body))]).toEqual([c.id, []]);
  }
});

describe('danger in Spanish', () => {
  const dangers = [...k.facts.values()].flatMap((f) => (f.danger ?? []).map((value) => [f.id, value] as const));
  test('there are dangers to tell', () => expect(dangers.length).toBeGreaterThan(20));
  test.each(dangers)('%s %s stops the talk in Spanish, in every region', async (fact, value) => {
    for (const region of [undefined, 'US', 'GB', 'GB-NIR', 'AU']) {
      const { ask: call } = testApp({ conversation: await createConversation({ region }) });
      const opened = await call('POST', '/api/cases', { audience: 'homeowner', language: 'es' });
      const turn = await call('POST', `/api/cases/${opened.body.case.id}/say`, { answer: { fact, value } });
      const { stops = [] } = turn.body.reply;
      const parts: string[] = turn.body.reply.parts.map((p: Body) => p.text);
      expect(englishIn(shown(turn.body))).toEqual([]);
      for (const { sign } of stops)
        expect(parts.join('\n')).toContain(`**Alto: ${speaker(ourWords(k)[1]!, k, 'homeowner').stop(sign)}**`);
    }
  });
  test('every stop has every line of every region in Spanish', () => {
    const s = speaker(ourWords(k)[1]!, k, 'agent');
    for (const stop of k.stops.values())
      for (const [region, lines] of Object.entries(stop.sayNow)) {
        const own = s.stopLines(stop.id, region)!;
        expect([stop.id, own.map((l) => l.touches)]).toEqual([stop.id, lines.map((l) => l.touches)]);
        expect([
          stop.id,
          englishIn(
            s.stop(stop.id),
            own.map(({ touches: _, ...l }) => l),
          ),
        ]).toEqual([stop.id, []]);
      }
  });
  test('a gas smell is told in Spanish words, and the numbers are those of the region', async () => {
    const { ask: call } = testApp({ conversation: await createConversation({ region: 'US' }) });
    const opened = await call('POST', '/api/cases', { audience: 'homeowner', language: 'es' });
    const turn = await call('POST', `/api/cases/${opened.body.case.id}/say`, { text: 'huele a gas' });
    const said = turn.body.reply.parts.map((p: Body) => p.text).join('\n');
    expect(said).toContain('Salga de la casa ya. Llévese a todos.');
    expect(said).toContain('Llame también desde afuera al 911.');
  });
});

describe('the language of a case', () => {
  const app = () => testApp({ conversation });
  const welcome = (body: Body): string => body.reply.parts[0].text;
  test('is told, else the Accept-Language header, else English', async () => {
    const { ask: call } = app();
    const open = (body: object, header?: string) =>
      call('POST', '/api/cases', { audience: 'homeowner', ...body }, header === undefined ? {} : { 'accept-language': header });
    expect(welcome((await open({ language: 'es' })).body)).toMatch(/^Hola/);
    expect(welcome((await open({}, 'es-MX,es;q=0.9,en;q=0.8')).body)).toMatch(/^Hola/);
    expect(welcome((await open({ language: 'en' }, 'es')).body)).toMatch(/^Hello/);
    expect(welcome((await open({}, 'fr-FR')).body)).toMatch(/^Hello/);
    expect(welcome((await open({})).body)).toMatch(/^Hello/);
    expect((await open({ language: 'fr' })).status).toBe(400);
  });
  test('a technician is spoken to in English, and whoever takes over in their own', async () => {
    const { ask: call } = app();
    const opened = await call('POST', '/api/cases', { audience: 'technician', language: 'es' });
    expect(opened.body.case.language).toBe('en');
    expect(welcome(opened.body)).toMatch(/^Tell me/);
    const id = opened.body.case.id;
    const told = await call('POST', `/api/cases/${id}/say`, { text: 'coil reads 10 ohms' });
    expect(told.status).toBe(200);
    const handed = await call('PATCH', `/api/cases/${id}`, { audience: 'homeowner' });
    expect(handed.body.case.language).toBe('es');
    expect(englishIn(handed.body.reply.parts.map((p: Body) => p.text))).toEqual([]);
  });
  test('changes with PATCH, is kept, and is not taken back with an answer', async () => {
    const { ask: call } = app();
    const { body } = await call('POST', '/api/cases', { audience: 'homeowner' });
    const id = body.case.id;
    await call('POST', `/api/cases/${id}/say`, { answer: { fact: 'complaint', value: 'noise' } });
    const spanish = await call('PATCH', `/api/cases/${id}`, { language: 'es' });
    expect(spanish.body.reply.ask.text).toContain('Primero, su seguridad.');
    expect((await call('GET', `/api/cases/${id}`)).body.reply.ask.text).toContain('Primero, su seguridad.');
    const undone = await call('POST', `/api/cases/${id}/undo`, {});
    expect(undone.body.reply.ask.text).toContain('¿Qué hace su secadora?');
    const back = await call('PATCH', `/api/cases/${id}`, { language: 'en' });
    expect(back.body.reply.ask.text).toContain('What does your dryer do?');
  });
  test('follows the person: clear Spanish moves an English case to Spanish, English moves it back', async () => {
    const { ask: call } = app();
    const { body } = await call('POST', '/api/cases', { audience: 'homeowner' });
    const say = (text: string) => call('POST', `/api/cases/${body.case.id}/say`, { text });
    const told = await say('mi secadora gira pero no calienta');
    expect(told.body.case).toMatchObject({ language: 'es', families: ['no-heat'] });
    expect(told.body.reply.parts[0].text).toBe('Sigo en español.');
    expect((await call('GET', `/api/cases/${body.case.id}`)).body.case.language).toBe('es');
    const back = await say('English please');
    expect(back.body.case).toMatchObject({ language: 'en', families: ['no-heat'] });
    expect(back.body.reply.parts[0].text).toBe('I go on in English.');
  });
  test('is the language of the printed sheet', async () => {
    const { ask: call } = app();
    const { body } = await call('POST', '/api/cases', { audience: 'homeowner', language: 'es' });
    const page = await call('GET', `/api/cases/${body.case.id}/sheet?as=page`);
    expect(page.body).toContain('<html lang="es">');
    expect(page.body).toContain('Hoja de trabajo');
  });
  test('a case sent again under the same key is answered in the same language', async () => {
    const { ask: call } = app();
    const { body } = await call('POST', '/api/cases', { audience: 'homeowner' });
    const again = { text: 'mi secadora no calienta', turn: 'key-0001' };
    const one = await call('POST', `/api/cases/${body.case.id}/say`, again);
    const two = await call('POST', `/api/cases/${body.case.id}/say`, again);
    expect(two.body).toEqual(one.body);
    expect(one.body.case.language).toBe('es');
  });
});
