/**
 * What the server says to a page or a program, as types. Each is made of the shape that is published: the shapes are written once,
 * in `shapes/`, a thing a file.
 */
export type { Ask, Drawing, Wiring, WiringBranch, WiringNode } from './shapes/ask.ts';
export type { CaseRecord, CaseView } from './shapes/case.ts';
export type { Curves } from './shapes/curves.ts';
export type { Meaning, Talk, Understood } from './shapes/meaning.ts';
export type { EvidenceRow, ExplainedReply, Outlook, Part, PartKind, Progress, Reply, SuspectRow } from './shapes/reply.ts';
export type { SentCase, SentReply, SentTurn, SentView } from './shapes/sent.ts';
