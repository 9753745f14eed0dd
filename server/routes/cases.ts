import { zValidator } from '@hono/zod-validator';
import { type Context, Hono } from 'hono';
import { type Outcome, stamped, takeTurn } from '../cases/take-turn.ts';
import type { Conversation, Turn } from '../conversation-port.ts';
import type { AppEnv, Deps } from '../deps.ts';
import { door, refuse } from '../errors.ts';
import { FIRST, type Language, wantedIn } from '../languages.ts';
import type { CaseRecord } from '../types.ts';
import {
  answerParam,
  caseParam,
  changeBody,
  openBody,
  openUnderBody,
  ownCaseParam,
  patchBody,
  sayBody,
  sheetQuery,
  turnsQuery,
  undoBody,
} from './bodies.ts';
import { sendSheet } from './sheet.ts';

const FIRST_REV = 1;
const NO_SUCH_CASE = { message: 'No case is kept here under this id. Check the id, or open a new case.' };
const STALE =
  'The case was added to since that revision. Read it again, and send this on the revision given here if it still holds.';

/** Talking: open a case, add to it, look at it, take it along. Every change goes through `takeTurn`. */
export function caseRoutes({ conversation, store, now, newId }: Deps) {
  return (
    new Hono<AppEnv>()
      .post('/', zValidator('json', openBody, door), async (c) => {
        const input = c.req.valid('json');
        const opened = await conversation.open(present(inLanguage(c, input)));
        if ('problem' in opened) return refuse(c, 422, opened.problem.code, opened.problem);
        const { answers, settings, view, reply } = opened;
        const id = newId();
        await store.create({ id, rev: FIRST_REV, opened: now().toISOString(), audience: input.audience, settings, answers });
        c.header('location', `/api/cases/${id}`);
        return c.json(stamped(id, FIRST_REV, view, reply), 201);
      })

      // Sent twice it opens one case: a page that lost the line does not know whether the first one arrived.
      .put('/:id', zValidator('param', ownCaseParam, door), zValidator('json', openUnderBody, door), async (c) => {
        const { id } = c.req.valid('param');
        const { opened: since, ...input } = c.req.valid('json');
        const opened = await conversation.open(present(inLanguage(c, input)));
        if ('problem' in opened) return refuse(c, 422, opened.problem.code, opened.problem);
        const { answers, settings, view, reply } = opened;
        const at = now().toISOString();
        const record = {
          id,
          rev: FIRST_REV,
          opened: since && since < at ? since : at,
          audience: input.audience,
          settings,
          answers,
        };
        const before = await store.get(id, FIRST_REV);
        if (before && !sameOpening(before, record))
          return refuse(c, 409, 'id-taken', { message: 'Another case has this id. Make a new random one.' });
        if (!before) await store.create(record);
        c.header('location', `/api/cases/${id}`);
        return c.json(stamped(id, FIRST_REV, view, reply), before ? 200 : 201);
      })

      .get('/:id/turns', zValidator('param', caseParam, door), zValidator('query', turnsQuery, door), async (c) => {
        const history = await store.history(c.req.valid('param').id, c.req.valid('query').after);
        return history ? c.json(history, 200) : refuse(c, 404, 'no-such-case', NO_SUCH_CASE);
      })

      .get('/:id', zValidator('param', caseParam, door), async (c) => {
        const record = await store.get(c.req.valid('param').id);
        if (!record) return refuse(c, 404, 'no-such-case', NO_SUCH_CASE);
        const turn = await conversation.look(record);
        if ('problem' in turn) return refuse(c, 422, turn.problem.code, turn.problem);
        return c.json(stamped(record.id, record.rev, turn.view, turn.reply), 200);
      })

      .post('/:id/say', zValidator('param', caseParam, door), zValidator('json', sayBody, door), async (c) => {
        const { rev, turn: key, text, answer } = c.req.valid('json');
        const taking = { rev, key, what: ['say', text, answer] };
        const take = (record: CaseRecord) => sayOrAnswer(conversation, record, text, answer);
        return send(c, await takeTurn(store, c.req.valid('param').id, taking, take));
      })

      .post('/:id/undo', zValidator('param', caseParam, door), zValidator('json', undoBody, door), async (c) => {
        const { rev, turn: key } = c.req.valid('json');
        return send(
          c,
          await takeTurn(store, c.req.valid('param').id, { rev, key, what: ['undo'] }, (record) => conversation.undo(record)),
        );
      })

      .put('/:id/answers/:seq', zValidator('param', answerParam, door), zValidator('json', changeBody, door), async (c) => {
        const { id, seq } = c.req.valid('param');
        const { rev, turn: key, value } = c.req.valid('json');
        const take = (record: CaseRecord) => conversation.change(record, seq, value);
        return send(c, await takeTurn(store, id, { rev, key, what: ['change', seq, value] }, take));
      })

      .patch('/:id', zValidator('param', caseParam, door), zValidator('json', patchBody, door), async (c) => {
        const { rev, turn: key, ...settings } = c.req.valid('json');
        const take = (record: CaseRecord) => conversation.patch(record, present(settings));
        return send(c, await takeTurn(store, c.req.valid('param').id, { rev, key, what: ['patch', settings] }, take));
      })

      .get('/:id/sheet', zValidator('param', caseParam, door), zValidator('query', sheetQuery, door), async (c) => {
        const record = await store.get(c.req.valid('param').id);
        if (!record) return refuse(c, 404, 'no-such-case', NO_SUCH_CASE);
        return sendSheet(c, await conversation.sheet(record), c.req.valid('query').as);
      })
  );
}

/** As told, else as the reader's own settings ask for. English is what is spoken where nothing is said. */
function inLanguage<T extends { language?: Language | undefined }>(c: Context, input: T): T {
  const language = input.language ?? wantedIn(c.req.header('accept-language'));
  return language === undefined || language === FIRST ? { ...input, language: undefined } : { ...input, language };
}

const sameOpening = (a: CaseRecord, b: CaseRecord): boolean =>
  JSON.stringify([a.audience, a.settings, a.answers]) === JSON.stringify([b.audience, b.settings, b.answers]);

type Said = Parameters<Conversation['answer']>[1] | undefined;
const sayOrAnswer = (conversation: Conversation, record: CaseRecord, text: string | undefined, answer: Said): Promise<Turn> =>
  answer ? conversation.answer(record, present(answer)) : conversation.say(record, text ?? '');

function send(c: Context<AppEnv>, outcome: Outcome) {
  switch (outcome.is) {
    case 'done':
      return c.json(outcome.body, 200);
    case 'no-such-case':
      return refuse(c, 404, 'no-such-case', NO_SUCH_CASE);
    case 'stale':
      return refuse(c, 409, 'stale', { rev: outcome.rev, message: STALE });
    case 'key-reused':
      return refuse(c, 422, 'key-reused', { message: 'This turn’s key was used for something else in this case.' });
    case 'full':
      return refuse(c, 422, 'case-full', { message: 'This case holds as many answers as a case can. Open a new one.' });
    case 'refused':
      return refuse(c, 422, outcome.problem.code, outcome.problem);
  }
}

/** A key that is there with nothing in it is not the same as no key, once objects are merged. */
const present = <T extends object>(value: T): T =>
  Object.fromEntries(Object.entries(value).filter(([, v]) => v !== undefined)) as T;
