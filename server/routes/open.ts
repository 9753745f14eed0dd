import { zValidator } from '@hono/zod-validator';
import { type Context, Hono } from 'hono';
import type { Opened, OpenInput } from '../conversation-port.ts';
import type { AppEnv, Deps } from '../deps.ts';
import { door, refuse } from '../errors.ts';
import { FIRST, wantedIn } from '../languages.ts';
import { openInput } from '../shapes/input.ts';
import type { CaseRecord } from '../types.ts';
import { explainQuery, openUnderBody, ownCaseParam } from './bodies.ts';
import { present } from './present.ts';
import { sentCase } from './sent.ts';

const FIRST_REV = 1;

/** A case is opened under an id of ours, or under a random one of the caller's. */
export function openRoutes({ conversation, store, now, newId }: Deps) {
  const asked = zValidator('query', explainQuery, door);
  return (
    new Hono<AppEnv>()
      .post('/', asked, zValidator('json', openInput, door), async (c) => {
        const input = c.req.valid('json');
        const opened = await conversation.open(openingOf(c, input));
        if ('problem' in opened) return refuse(c, 422, opened.problem.code, opened.problem);
        const record = recordOf(newId(), now().toISOString(), input, opened);
        await store.create(record);
        return sendOpened(c, record, opened, 201);
      })

      // Sent twice it opens one case: a page that lost the line does not know whether the first one arrived.
      .put('/:id', asked, zValidator('param', ownCaseParam, door), zValidator('json', openUnderBody, door), async (c) => {
        const { opened: since, ...input } = c.req.valid('json');
        const opened = await conversation.open(openingOf(c, input));
        if ('problem' in opened) return refuse(c, 422, opened.problem.code, opened.problem);
        const at = now().toISOString();
        const record = recordOf(c.req.valid('param').id, since && since < at ? since : at, input, opened);
        const before = await store.get(record.id, FIRST_REV);
        if (before && !sameOpening(before, record))
          return refuse(c, 409, 'id-taken', { message: 'Another case has this id. Make a new random one.' });
        if (!before) await store.create(record);
        return sendOpened(c, record, opened, before ? 200 : 201);
      })
  );
}

/** In the language told, else as the reader's own settings ask for. English is what is spoken where nothing is said. */
function openingOf(c: Context, input: OpenInput): OpenInput {
  const language = input.language ?? wantedIn(c.req.header('accept-language'));
  return present({ ...input, language: language === FIRST ? undefined : language });
}

const recordOf = (
  id: string,
  opened: string,
  { audience }: Pick<OpenInput, 'audience'>,
  { answers, settings }: Opened,
): CaseRecord => ({
  id,
  rev: FIRST_REV,
  opened,
  audience,
  settings,
  answers,
});

const sameOpening = (a: CaseRecord, b: CaseRecord): boolean =>
  JSON.stringify([a.audience, a.settings, a.answers]) === JSON.stringify([b.audience, b.settings, b.answers]);

function sendOpened<Status extends 200 | 201>(c: Context, { id }: CaseRecord, { view, reply }: Opened, status: Status) {
  c.header('location', `/api/cases/${id}`);
  return c.json(sentCase(id, FIRST_REV, view, reply, c.req.query('explain') === '1'), status);
}
