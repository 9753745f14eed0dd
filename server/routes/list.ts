import { z } from 'zod';
import type { RouteDoc } from '../openapi.ts';
import { drawing } from '../shapes/ask.ts';
import { caseHistory } from '../shapes/case.ts';
import { openInput, readingInput } from '../shapes/input.ts';
import { catalogue, quickReading } from '../shapes/reading.ts';
import { sentCase, sentTurn } from '../shapes/sent.ts';
import { jobSheet } from '../shapes/sheet.ts';
import {
  answerParam,
  caseParam,
  changeBody,
  demoParam,
  explainQuery,
  openUnderBody,
  ownCaseParam,
  patchBody,
  sayBody,
  sheetQuery,
  turnsQuery,
  undoBody,
} from './bodies.ts';
import { demoListShape, demoShape, healthShape } from './shapes.ts';

const json = (schema: z.ZodType) => ({ 'application/json': schema });
const anywhere = [429, 500];
const inBody = [400, 413, 422, ...anywhere];
const onCase = [400, 404, 409, 413, 422, ...anywhere];

/** Every route there is. A test holds this list and the app's own routes against each other. */
export const routeList: RouteDoc[] = [
  {
    method: 'post',
    path: '/api/cases',
    summary: 'Opens a case for a homeowner, a call-centre agent or a technician. The id is the key to it: keep it private.',
    body: openInput,
    query: explainQuery,
    answers: { 201: json(sentCase) },
    errors: inBody,
  },
  {
    method: 'put',
    path: '/api/cases/{id}',
    summary: 'Opens a case under a random id of your own. Sent again, the same case answers and no second one is opened.',
    params: ownCaseParam,
    body: openUnderBody,
    query: explainQuery,
    answers: { 200: json(sentCase), 201: json(sentCase) },
    errors: [400, 409, 413, 422, ...anywhere],
  },
  {
    method: 'get',
    path: '/api/cases/{id}/turns',
    summary: 'The case turn by turn as it is stored, for a store elsewhere that is to hold the same.',
    params: caseParam,
    query: turnsQuery,
    answers: { 200: json(caseHistory) },
    errors: [400, 404, ...anywhere],
  },
  {
    method: 'get',
    path: '/api/cases/{id}/drawing',
    summary:
      'Points and parts of the circuit that readings of this case are asked in. The same as long as `ask.wiring.drawing` is.',
    params: caseParam,
    answers: { 200: json(drawing) },
    errors: [400, 404, ...anywhere],
  },
  {
    method: 'get',
    path: '/api/cases/{id}',
    summary: 'The case as it stands, with the question open now.',
    params: caseParam,
    query: explainQuery,
    answers: { 200: json(sentCase) },
    errors: [400, 404, 422, ...anywhere],
  },
  {
    method: 'post',
    path: '/api/cases/{id}/say',
    summary: 'Says something in plain words, or gives one structured answer.',
    params: caseParam,
    body: sayBody,
    query: explainQuery,
    answers: { 200: json(sentTurn) },
    errors: onCase,
  },
  {
    method: 'post',
    path: '/api/cases/{id}/undo',
    summary: 'Takes back the last turn.',
    params: caseParam,
    body: undoBody,
    query: explainQuery,
    answers: { 200: json(sentTurn) },
    errors: onCase,
  },
  {
    method: 'put',
    path: '/api/cases/{id}/answers/{seq}',
    summary: 'Changes one earlier answer in place.',
    params: answerParam,
    body: changeBody,
    query: explainQuery,
    answers: { 200: json(sentTurn) },
    errors: onCase,
  },
  {
    method: 'patch',
    path: '/api/cases/{id}',
    summary: 'Changes who is talking, the language, the units, the machine in hand, or states that a technician is qualified.',
    params: caseParam,
    body: patchBody,
    query: explainQuery,
    answers: { 200: json(sentTurn) },
    errors: onCase,
  },
  {
    method: 'get',
    path: '/api/cases/{id}/sheet',
    summary: 'The job sheet as JSON, Markdown or a page to print, by `as` or by the Accept header.',
    params: caseParam,
    query: sheetQuery,
    answers: { 200: { 'application/json': jobSheet, 'text/markdown': z.string(), 'text/html': z.string() } },
    errors: [400, 404, ...anywhere],
  },
  {
    method: 'post',
    path: '/api/reading',
    summary: 'Judges one reading without a case.',
    body: readingInput,
    answers: { 200: json(quickReading) },
    errors: inBody,
  },
  { method: 'get', path: '/api/health', summary: 'Whether it runs.', answers: { 200: json(healthShape) }, errors: anywhere },
  {
    method: 'get',
    path: '/api/knowledge',
    summary: 'What is known: version, families, machines, meters, and the checks a single reading can be judged for.',
    answers: { 200: json(catalogue) },
    errors: anywhere,
  },
  {
    method: 'get',
    path: '/api/demo',
    summary: 'Invented talks to read.',
    answers: { 200: json(demoListShape) },
    errors: anywhere,
  },
  {
    method: 'get',
    path: '/api/demo/{name}',
    summary: 'One invented talk.',
    params: demoParam,
    answers: { 200: json(demoShape) },
    errors: [404, ...anywhere],
  },
  {
    method: 'get',
    path: '/api/docs',
    summary: 'This list, for people.',
    answers: { 200: { 'text/html': z.string() } },
    errors: anywhere,
  },
  {
    method: 'get',
    path: '/api/page.css',
    summary: 'The style of the two printed pages.',
    answers: { 200: { 'text/css': z.string() } },
    errors: anywhere,
  },
  {
    method: 'get',
    path: '/openapi.json',
    summary: 'This list, for programs.',
    answers: { 200: json(z.looseObject({ openapi: z.string() })) },
    errors: [500],
  },
];
